// SPDX-License-Identifier: Apache-2.0
import type { Disc } from './answers';
import type { Layer } from './layer';
import { onDisc, transform, type Sight } from './sight';
import type { Spot } from './spot';

/** Colours by what they are for. */
export interface Inks {
  ground: string;
  metal: string;
  ink: string;
  line: string;
  projection: string;
  chosen: string;
  spot: string;
  tour: string;
  lit: string;
}

/** A disc made ready for drawing often. */
export interface Shapes {
  edge: Path2D;
  holes: Path2D;
  marks: Path2D;
  projections: Path2D;
  each: Path2D[];
  /** The projections' places in mm. */
  at: { x: number; y: number }[];
}

function along(path: Path2D, points: readonly number[], closed: boolean) {
  path.moveTo(points[0]!, points[1]!);
  for (let i = 2; i + 1 < points.length; i += 2) path.lineTo(points[i]!, points[i + 1]!);
  if (closed) path.closePath();
}

export function shapesOf({ drawing, projections }: Disc): Shapes {
  const shapes: Shapes = {
    edge: new Path2D(),
    holes: new Path2D(),
    marks: new Path2D(),
    projections: new Path2D(),
    each: [],
    at: projections.map(({ radius_m, angle_rad }) => ({
      x: 1000 * radius_m * Math.cos(angle_rad),
      y: 1000 * radius_m * Math.sin(angle_rad),
    })),
  };
  const layer = (name: string) =>
    name === 'EDGE' ? shapes.edge : name === 'HOLES' ? shapes.holes : shapes.marks;
  for (const { layer: name, points, closed } of drawing.polylines) {
    if (name !== 'PROJECTIONS') {
      along(layer(name), points, closed);
      continue;
    }
    const one = new Path2D();
    along(one, points, closed);
    shapes.each.push(one);
    shapes.projections.addPath(one);
  }
  for (const circle of drawing.circles) {
    const path = layer(circle.layer);
    path.moveTo(circle.x + circle.radius, circle.y);
    path.arc(circle.x, circle.y, circle.radius, 0, 2 * Math.PI);
  }
  for (const line of drawing.lines) along(layer(line.layer), line.points, false);
  return shapes;
}

export interface Scene {
  disc: Disc;
  shapes: Shapes;
  sight: Sight;
  inks: Inks;
  /** Place among the projections, -1 for none. */
  chosen: number;
  spot: Spot;
  /** Under the pointer, -1 for none. */
  pointed: number;
  /** So many hits of the tour are shown; nothing for none. */
  tour: number | null;
  /** By track, from 1. */
  light: Float64Array | null;
}

/** Room in mm around the disc for lines on its edge. */
const room = 2;

/** The sheet as cut; of the projections those that `seen` picks, all without it. */
function paintSheet(
  c: CanvasRenderingContext2D,
  { shapes, sight, inks }: Scene,
  seen?: (hit: number) => boolean,
) {
  c.lineWidth = 1 / sight.zoom;
  c.fillStyle = inks.metal;
  c.fill(shapes.edge);
  c.strokeStyle = inks.ink;
  c.stroke(shapes.edge);
  c.fillStyle = inks.ground;
  c.fill(shapes.holes);
  c.stroke(shapes.holes);
  c.strokeStyle = inks.line;
  c.stroke(shapes.marks);
  c.fillStyle = inks.projection;
  if (!seen) c.fill(shapes.projections);
  else shapes.each.forEach((one, i) => seen(i) && c.fill(one));
}

function paintTour(c: CanvasRenderingContext2D, { shapes, sight, inks, tour }: Scene) {
  if (tour === null) return;
  c.beginPath();
  for (let i = 0; i < tour && i < shapes.at.length; ++i) c.lineTo(shapes.at[i]!.x, shapes.at[i]!.y);
  c.strokeStyle = inks.tour;
  c.lineWidth = 1.5 / sight.zoom;
  c.stroke();
}

function ring(c: CanvasRenderingContext2D, { shapes, sight }: Scene, hit: number, wide = 3) {
  const at = shapes.at[hit];
  if (!at) return;
  c.beginPath();
  c.arc(at.x, at.y, Math.max(14 / sight.zoom, 1.6), 0, 2 * Math.PI);
  c.lineWidth = wide / sight.zoom;
  c.stroke();
}

/** Rings with dashes, so that they are told from the ring of the chosen hit without colour. */
function paintSpot(c: CanvasRenderingContext2D, scene: Scene) {
  const { disc, shapes, sight, inks, spot } = scene;
  c.strokeStyle = inks.spot;
  c.fillStyle = inks.spot;
  c.setLineDash([6 / sight.zoom, 4 / sight.zoom]);
  for (const hit of spot.hits) ring(c, scene, hit);
  const track = disc.tracks[spot.track - 1];
  if (track) {
    c.beginPath();
    c.arc(0, 0, 1000 * track.radius_m, 0, 2 * Math.PI);
    c.lineWidth = 1.5 / sight.zoom;
    c.stroke();
    shapes.each.forEach((one, i) => disc.projections[i]!.track === spot.track && c.fill(one));
  }
  c.setLineDash([]);
}

/** The bar with its rollers and the star wheels' places stand still; the disc turns under them. */
function paintBar(c: CanvasRenderingContext2D, { disc, sight, inks, light }: Scene) {
  const outer = 1000 * disc.outer_radius_m;
  c.translate(sight.x, sight.y);
  c.scale((sight.above ? -1 : 1) * sight.zoom, sight.zoom);
  c.strokeStyle = inks.ink;
  c.lineWidth = 1 / sight.zoom;
  c.beginPath();
  c.moveTo(-2, 0);
  c.lineTo(outer + 4, 0);
  c.stroke();
  const { roller_radius_m, roller_width_m } = disc.geometry.hold_down;
  c.fillStyle = inks.ink;
  const wide = Math.max(1000 * roller_width_m, 2 / sight.zoom);
  for (const radius of roller_radius_m) c.fillRect(1000 * radius - wide / 2, -4, wide, 8);
  const pitch =
    disc.tracks.length > 1 ? 1000 * (disc.tracks[1]!.radius_m - disc.tracks[0]!.radius_m) : 2;
  for (const track of disc.tracks) {
    const bright = light?.[track.track] ?? 0;
    const x = 1000 * track.radius_m;
    c.fillStyle = bright > 0 ? inks.lit : inks.line;
    c.globalAlpha = bright > 0 ? 0.4 + 0.6 * bright : 1;
    const length = 4 + 8 * bright;
    c.fillRect(x - 0.35 * pitch, -length / 2, 0.7 * pitch, length);
  }
  c.globalAlpha = 1;
}

/** True for the projections that lie in a picture of that size. */
function inPicture({ shapes, sight }: Scene, width: number, height: number) {
  const middle = onDisc(sight, { x: width / 2, y: height / 2 });
  const reach = Math.hypot(width, height) / 2 / sight.zoom + 2 * room;
  return (hit: number) =>
    Math.hypot(shapes.at[hit]!.x - middle.x, shapes.at[hit]!.y - middle.y) < reach;
}

/**
 * The picture on a canvas with `ratio` of its pixels for one of the page's. `turning`: it changes
 * with the next frame, and a picture of the sheet that is only turned is good enough.
 */
export function paint(
  c: CanvasRenderingContext2D,
  scene: Scene,
  ratio: number,
  layer: Layer,
  turning: boolean,
) {
  const { shapes, sight, inks, chosen } = scene;
  const { width, height } = c.canvas;
  c.setTransform(1, 0, 0, 1, 0, 0);
  c.fillStyle = inks.ground;
  c.fillRect(0, 0, width, height);
  c.setTransform(ratio, 0, 0, ratio, 0, 0);
  c.save();
  c.transform(...transform(sight));
  const half = 1000 * scene.disc.outer_radius_m + room;
  const scale = ratio * sight.zoom;
  const kept = turning
    ? layer.get(2 * half * scale, [shapes, inks, scale], (onto) => {
        onto.setTransform(scale, 0, 0, scale, half * scale, half * scale);
        paintSheet(onto, scene);
      })
    : null;
  if (kept) c.drawImage(kept, -half, -half, kept.width / scale, kept.height / scale);
  else paintSheet(c, scene, inPicture(scene, width / ratio, height / ratio));
  paintTour(c, scene);
  paintSpot(c, scene);
  c.strokeStyle = inks.ink;
  if (scene.pointed !== chosen) ring(c, scene, scene.pointed, 1.5);
  const one = shapes.each[chosen];
  if (one) {
    c.fillStyle = inks.chosen;
    c.fill(one);
    c.strokeStyle = inks.chosen;
    ring(c, scene, chosen);
  }
  c.restore();
  c.save();
  paintBar(c, scene);
  c.restore();
}
