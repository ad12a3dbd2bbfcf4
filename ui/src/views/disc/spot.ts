// SPDX-License-Identifier: Apache-2.0
import type { Projection } from './answers';

/**
 * The hit that a finding's place means ("hit 12", "track 7, 93.2 deg", "bar 6 beat 2", "track 7"), -1 if
 * it means none of them: the first one there by time.
 */
export function spotOf(where: string, projections: readonly Projection[]): number {
  const number = (word: RegExp) => {
    const found = word.exec(where);
    return found ? Number(found[1]) : null;
  };
  const hit = number(/\bhits? (\d+)/);
  if (hit !== null && hit >= 1 && hit <= projections.length) return hit - 1;
  const track = number(/\btracks? (\d+)/);
  const bar = number(/\bbar (\d+)/);
  const degrees = number(/(-?[\d.]+) deg/);
  const seconds = number(/([\d.]+) s\b/);
  if (track === null && bar === null && degrees === null && seconds === null) return -1;
  let found = -1;
  let least = Infinity;
  projections.forEach((one, i) => {
    if (track !== null && one.track !== track) return;
    if (bar !== null && one.bar !== bar) return;
    let away = one.time_s;
    if (degrees !== null) {
      const turns = (one.angle_rad / Math.PI) * 180 - degrees;
      away = Math.abs(turns - 360 * Math.round(turns / 360));
    } else if (seconds !== null) away = Math.abs(one.time_s - seconds);
    if (away < least) {
      least = away;
      found = i;
    }
  });
  return found;
}
