// SPDX-License-Identifier: Apache-2.0
import type { Disc } from './answers';
import { transform, type Sight } from './sight';

/** Colours by what they are for. */
export interface Inks {
  ground: string;
  sheet: string;
  metal: string;
  ink: string;
  line: string;
  projection: string;
  chosen: string;
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
}

function along(path: Path2D, points: readonly number[], closed: boolean) {
  path.moveTo(points[0]!, points[1]!);
  for (let i = 2; i + 1 < points.length; i += 2) path.lineTo(points[i]!, points[i + 1]!);
  if (closed) path.closePath();
}

export function shapesOf({ drawing }: Disc): Shapes {
  const shapes: Shapes = {
    edge: new Path2D(),
    holes: new Path2D(),
    marks: new Path2D(),
    projections: new Path2D(),
    each: [],
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
  /** So many hits of the tour are shown; nothing for none. */
  tour: number | null;
  /** By track, from 1. */
  light: Float64Array | null;
}

function paintTour(c: CanvasRenderingContext2D, { disc, sight, inks, tour }: Scene) {
  if (tour === null) return;
  c.beginPath();
  disc.projections.slice(0, tour).forEach((projection, i) => {
    const x = 1000 * projection.radius_m * Math.cos(projection.angle_rad);
    const y = 1000 * projection.radius_m * Math.sin(projection.angle_rad);
    if (i === 0) c.moveTo(x, y);
    else c.lineTo(x, y);
  });
  c.strokeStyle = inks.tour;
  c.lineWidth = 1.5 / sight.zoom;
  c.stroke();
}

/** The bar and the star wheels' places stand still; the disc turns under them. */
function paintBar(c: CanvasRenderingContext2D, { disc, sight, inks, light }: Scene) {
  const mirror = sight.above ? -1 : 1;
  const outer = 1000 * disc.outer_radius_m;
  c.setTransform(
    c
      .getTransform()
      .multiply(new DOMMatrix([mirror * sight.zoom, 0, 0, sight.zoom, sight.x, sight.y])),
  );
  c.strokeStyle = inks.ink;
  c.lineWidth = 1 / sight.zoom;
  c.beginPath();
  c.moveTo(-2, 0);
  c.lineTo(outer + 4, 0);
  c.stroke();
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

export function paint(c: CanvasRenderingContext2D, scene: Scene, ratio: number) {
  const { shapes, sight, inks, chosen } = scene;
  c.setTransform(1, 0, 0, 1, 0, 0);
  c.fillStyle = inks.ground;
  c.fillRect(0, 0, c.canvas.width, c.canvas.height);
  c.setTransform(ratio, 0, 0, ratio, 0, 0);
  c.save();
  c.transform(...transform(sight));
  const thin = 1 / sight.zoom;
  c.lineWidth = thin;
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
  c.fill(shapes.projections);
  // Seen from afar they are less than a pixel.
  c.strokeStyle = inks.projection;
  c.stroke(shapes.projections);
  paintTour(c, scene);
  const one = shapes.each[chosen];
  if (one) {
    c.fillStyle = inks.chosen;
    c.fill(one);
    const at = scene.disc.projections[chosen]!;
    c.beginPath();
    c.arc(
      1000 * at.radius_m * Math.cos(at.angle_rad),
      1000 * at.radius_m * Math.sin(at.angle_rad),
      Math.max(14 * thin, 1.6),
      0,
      2 * Math.PI,
    );
    c.strokeStyle = inks.chosen;
    c.lineWidth = 3 * thin;
    c.stroke();
  }
  c.restore();
  c.save();
  paintBar(c, scene);
  c.restore();
}
