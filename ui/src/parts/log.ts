// SPDX-License-Identifier: Apache-2.0
// What the records tell of a reading and of a comb, in words.
import { figures } from './numbers';

export interface Work {
  do: 'clip' | 'file_root' | 'file_tip';
  length_m: number;
}

/** As docs/commands/log.md has it, as far as the tooth's own page tells it too. */
export interface ToothReading {
  number: number;
  frequency_hz: number;
  offset_cents: number;
  stderr_cents: number;
  temperature_c: number | null;
  work: readonly Work[];
  who: string;
  at: string;
  struck: string | null;
  work_struck: boolean;
}

const did = { clip: 'clipped', file_root: 'root filed', file_tip: 'tip filed' };

/** "0.69 mm", not to be broken; three places where a file takes micrometres. */
export function lengthWords(length_m: number): string {
  const mm = 1000 * length_m;
  return `${mm >= 0.1 ? mm.toFixed(2) : figures(mm, 2)}\u00a0mm`;
}

/** "clipped 0.35 mm, root filed 0.020 mm" */
export function workWords(work: readonly Work[]): string {
  return work.map((one) => `${did[one.do]} ${lengthWords(one.length_m)}`).join(', ');
}

/** A day or a moment of UTC for people: "2024-05-17 09:30". */
export function when(at: string): string {
  return at.replace(/T(\d\d:\d\d).*$/, ' $1');
}

/** "comb 1", "comb back". */
export function combName(name: string): string {
  return /^comb\b/.test(name) ? name : `comb ${name}`;
}
