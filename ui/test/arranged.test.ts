// SPDX-License-Identifier: Apache-2.0
import { expect, it } from 'vitest';
import { arrangedWords } from '../src/views/disc/arranged';

it('tells how the tune was fitted to the disc', () => {
  const arranged = {
    transpose_semitones: -1,
    tempo_factor: 1.04,
    first_bar: 1,
    last_bar: 32,
    fidelity: 0.9834,
    locked: 0,
  };
  expect(arrangedWords(arranged)).toBe('transposed −1 semitone, tempo 104 %, 98.3 % kept');
  expect(arrangedWords({ ...arranged, transpose_semitones: 2, locked: 3 })).toBe(
    'transposed +2 semitones, tempo 104 %, 98.3 % kept, 3 notes locked by hand',
  );
  expect(arrangedWords({ ...arranged, transpose_semitones: 0 })).toContain('not transposed');
});
