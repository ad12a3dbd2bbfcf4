// SPDX-License-Identifier: Apache-2.0
import type { Disc } from './answers';

/** How the tune was fitted to the disc: "transposed +2 semitones, tempo 104 %, 98.3 % kept". */
export function arrangedWords(arranged: Disc['arranged']): string {
  const { transpose_semitones: by, tempo_factor, fidelity, locked } = arranged;
  const semitones = `${by > 0 ? '+' : '−'}${Math.abs(by)} ${Math.abs(by) === 1 ? 'semitone' : 'semitones'}`;
  const words = [
    by === 0 ? 'not transposed' : `transposed ${semitones}`,
    `tempo ${(100 * tempo_factor).toFixed(0)} %`,
    `${(100 * fidelity).toFixed(1)} % kept`,
  ];
  if (locked > 0) words.push(`${locked} ${locked === 1 ? 'note' : 'notes'} locked by hand`);
  return words.join(', ');
}
