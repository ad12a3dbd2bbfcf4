// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import type { Projection } from '../src/views/disc/answers';
import {
  closer,
  fitted,
  lit,
  nearest,
  onDisc,
  onPicture,
  showing,
  turnedAt,
  type Sight,
} from '../src/views/disc/sight';

const sight: Sight = { zoom: 3, x: 200, y: 150, turned: 0.7, above: false };
const projection = (track: number, radius: number, angle: number, time: number): Projection => ({
  track,
  midi: 60,
  radius_m: radius / 1000,
  angle_rad: angle,
  time_s: time,
  note: 0,
  bar: 1,
});

describe('the sight of a disc', () => {
  it('leads from the picture to the disc and back', () => {
    for (const above of [false, true]) {
      const at = onPicture({ ...sight, above }, onDisc({ ...sight, above }, { x: 17, y: 31 }));
      expect(at.x).toBeCloseTo(17, 9);
      expect(at.y).toBeCloseTo(31, 9);
    }
  });

  it('shows +X to the right, +Y up and a turn counter-clockwise', () => {
    const straight = { ...sight, turned: 0 };
    expect(onPicture(straight, { x: 10, y: 0 })).toEqual({ x: 230, y: 150 });
    expect(onPicture(straight, { x: 0, y: 10 }).y).toBeCloseTo(120);
    const quarter = onPicture({ ...sight, turned: Math.PI / 2 }, { x: 10, y: 0 });
    expect(quarter.x).toBeCloseTo(200);
    expect(quarter.y).toBeCloseTo(120);
  });

  it('changes left and right from above', () => {
    const from = onPicture({ ...sight, turned: 0, above: true }, { x: 10, y: 5 });
    expect(from.x).toBeCloseTo(170);
    expect(from.y).toBeCloseTo(135);
  });

  it('keeps what is under the pointer where it is', () => {
    const at = { x: 40, y: 60 };
    const before = onDisc(sight, at);
    const after = onDisc(closer(sight, 2.5, at), at);
    expect(after.x).toBeCloseTo(before.x, 9);
    expect(after.y).toBeCloseTo(before.y, 9);
  });

  it('brings a place to the middle, close, and several so that all are seen', () => {
    const one = showing(sight, [{ x: 70, y: -20 }], 400, 300);
    expect(one.zoom).toBe(12);
    expect(onPicture(one, { x: 70, y: -20 }).x).toBeCloseTo(200);
    expect(onPicture(one, { x: 70, y: -20 }).y).toBeCloseTo(150);
    const ends = [
      { x: 70, y: -20 },
      { x: -90, y: 40 },
    ];
    const both = showing(sight, ends, 400, 300);
    for (const end of ends) {
      const { x, y } = onPicture(both, end);
      expect(x).toBeGreaterThanOrEqual(0);
      expect(x).toBeLessThanOrEqual(400);
      expect(y).toBeGreaterThanOrEqual(0);
      expect(y).toBeLessThanOrEqual(300);
    }
    expect(showing(sight, [], 400, 300)).toEqual(sight);
  });

  it('holds the whole disc when fitted', () => {
    const whole = { ...fitted(800, 600, 210), turned: 0, above: false };
    const top = onPicture(whole, { x: 0, y: 210 });
    expect(top.y).toBeGreaterThan(0);
    expect(onPicture(whole, { x: 0, y: -210 }).y).toBeLessThan(600);
  });
});

describe('projections', () => {
  const two = [projection(1, 50, 0, 1), projection(2, 52, Math.PI / 2, 2)];

  it('are found by the pointer within its reach', () => {
    expect(nearest(two, { x: 50.4, y: 0.2 }, 1)).toBe(0);
    expect(nearest(two, { x: 0, y: 51.5 }, 1)).toBe(1);
    expect(nearest(two, { x: 30, y: 30 }, 1)).toBe(-1);
  });

  it('come to the bar at their time', () => {
    // A quarter of a turn of 40 s after the start.
    const turned = turnedAt(10, 40, 'clockwise');
    const bar = onPicture({ ...sight, turned }, { x: 0, y: 52 });
    expect(bar.x).toBeCloseTo(200 + 3 * 52);
    expect(bar.y).toBeCloseTo(150);
    expect(turnedAt(10, 40, 'counter-clockwise')).toBeCloseTo(Math.PI / 2);
  });

  it('light up their track when they pluck it, and fade', () => {
    expect(lit(two, 0.9, 2)[1]).toBe(0);
    expect(lit(two, 1, 2)[1]).toBe(1);
    expect(lit(two, 1.2, 2)[1]).toBeCloseTo(0.5);
    expect(lit(two, 2.1, 2)[1]).toBe(0);
    expect(lit(two, 2.1, 2)[2]).toBeCloseTo(0.75);
  });
});
