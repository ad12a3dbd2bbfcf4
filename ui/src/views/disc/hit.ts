// SPDX-License-Identifier: Apache-2.0
import { noteName } from '../../parts/numbers';
import type { Projection } from './answers';

/** What is told of a hit, with its names. */
export function describe(hit: Projection): { name: string; value: string }[] {
  return [
    { name: 'Track', value: `${hit.track}, ${noteName(hit.midi)}` },
    { name: 'Radius', value: `${(1000 * hit.radius_m).toFixed(2)} mm` },
    { name: 'Angle', value: `${((180 / Math.PI) * hit.angle_rad).toFixed(3)}°` },
    { name: 'Plucks at', value: `${hit.time_s.toFixed(3)} s` },
    {
      name: 'Note of the tune',
      value: hit.note >= 0 ? `${hit.note + 1}${hit.bar > 0 ? `, bar ${hit.bar}` : ''}` : '–',
    },
  ];
}
