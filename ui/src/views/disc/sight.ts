// SPDX-License-Identifier: Apache-2.0
import type { Projection } from './answers';

/** How the disc is looked at: `zoom` is pixels for a millimetre, `x`, `y` where its centre lies. */
export interface Sight {
  zoom: number;
  x: number;
  y: number;
  /** Of the disc, counter-clockwise from how it is drawn. */
  turned: number;
  /** From above, as it lies in the box: left and right change places. */
  above: boolean;
}

/** The whole disc in a picture, with room for what stands outside its edge. */
export function fitted(
  width: number,
  height: number,
  radiusMm: number,
): Omit<Sight, 'turned' | 'above'> {
  const zoom = Math.min(width, height) / (2.2 * radiusMm);
  return { zoom, x: width / 2, y: height / 2 };
}

/** Closer by a factor, what lies under the pointer staying there. */
export function closer(sight: Sight, factor: number, at: { x: number; y: number }): Sight {
  const zoom = Math.min(400, Math.max(0.2, sight.zoom * factor));
  const by = zoom / sight.zoom;
  return { ...sight, zoom, x: at.x + (sight.x - at.x) * by, y: at.y + (sight.y - at.y) * by };
}

/** Pixels for a millimetre at which a single projection is seen well. */
const near = 12;

/** The sight moved so that places on the disc, in mm, lie in the middle of a picture, as close as that goes. */
export function showing(
  sight: Sight,
  places: readonly { x: number; y: number }[],
  width: number,
  height: number,
): Sight {
  if (places.length === 0) return sight;
  const seen = places.map((at) => onPicture(sight, at));
  const [left, right] = [Math.min(...seen.map((p) => p.x)), Math.max(...seen.map((p) => p.x))];
  const [top, bottom] = [Math.min(...seen.map((p) => p.y)), Math.max(...seen.map((p) => p.y))];
  const grows = Math.min((0.8 * width) / (right - left), (0.8 * height) / (bottom - top));
  const zoom = Math.min(Math.max(sight.zoom, near), grows * sight.zoom);
  const by = zoom / sight.zoom;
  return {
    ...sight,
    zoom,
    x: width / 2 + by * (sight.x - (left + right) / 2),
    y: height / 2 + by * (sight.y - (top + bottom) / 2),
  };
}

/** What canvas is to be told so that a disc in millimetres, y up, is seen so. */
export function transform(sight: Sight): [number, number, number, number, number, number] {
  const mirror = sight.above ? -1 : 1;
  const c = sight.zoom * Math.cos(sight.turned);
  const s = sight.zoom * Math.sin(sight.turned);
  return [mirror * c, -s, -mirror * s, -c, sight.x, sight.y];
}

/** Where on the disc a place of the picture lies, in mm. */
export function onDisc(sight: Sight, at: { x: number; y: number }): { x: number; y: number } {
  const mirror = sight.above ? -1 : 1;
  const x = (mirror * (at.x - sight.x)) / sight.zoom;
  const y = -(at.y - sight.y) / sight.zoom;
  const c = Math.cos(sight.turned);
  const s = Math.sin(sight.turned);
  return { x: c * x + s * y, y: c * y - s * x };
}

/** And back. */
export function onPicture(sight: Sight, at: { x: number; y: number }): { x: number; y: number } {
  const [a, b, c, d, e, f] = transform(sight);
  return { x: a * at.x + c * at.y + e, y: b * at.x + d * at.y + f };
}

/** The place of the projection nearest to a place on the disc in mm, -1 beyond `reachMm`. */
export function nearest(
  projections: readonly Projection[],
  at: { x: number; y: number },
  reachMm: number,
): number {
  let found = -1;
  let least = reachMm;
  projections.forEach((projection, i) => {
    const radius = 1000 * projection.radius_m;
    const away = Math.hypot(
      radius * Math.cos(projection.angle_rad) - at.x,
      radius * Math.sin(projection.angle_rad) - at.y,
    );
    if (away < least) {
      least = away;
      found = i;
    }
  });
  return found;
}

/**
 * How far the disc has turned after so many seconds, as Sight has it. A disc that turns clockwise
 * brings rising angles to the star wheels, which stand where +X is drawn.
 */
export function turnedAt(
  seconds: number,
  turnTime: number,
  turning: 'clockwise' | 'counter-clockwise',
): number {
  const turned = (2 * Math.PI * seconds) / turnTime;
  return turning === 'clockwise' ? -turned : turned;
}

/**
 * How brightly each track's teeth are lit, 0 to 1: fully when plucked, gone after `glow` seconds.
 * `byTime` are projections by time.
 */
export function lit(
  byTime: readonly Projection[],
  seconds: number,
  tracks: number,
  glow = 0.4,
): Float64Array {
  const light = new Float64Array(tracks + 1);
  let low = 0;
  let high = byTime.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (byTime[middle]!.time_s <= seconds) low = middle + 1;
    else high = middle;
  }
  for (let i = low - 1; i >= 0; --i) {
    const one = byTime[i]!;
    const age = seconds - one.time_s;
    if (age > glow) break;
    light[one.track] = Math.max(light[one.track] ?? 0, 1 - age / glow);
  }
  return light;
}
