// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import type { Arrangement, Note } from '../src/views/tune/answers';
import { fates, markAt, rollOf } from '../src/views/tune/roll';

const note = (index: number, onset: number, midi: number, fate: Note['fate']): Note => ({
  index,
  onset_s: onset,
  duration_s: 0.5,
  midi,
  weight: 1,
  role: 'melody',
  fate,
  bar: 1,
  beat: 1,
  part: 0,
});

const arrangement = {
  transpose_semitones: 2,
  turn_time_s: 10,
  tracks: [
    { track: 1, midi: 62, min_interval_s: 0.3 },
    { track: 2, midi: 62, min_interval_s: 0.3 },
    { track: 3, midi: 74, min_interval_s: 0.3 },
  ],
  notes: [note(0, 1, 60, 'kept'), note(1, 2, 60, 'octave'), note(2, 3, 71, 'dropped')],
  plucks: [
    { time_s: 1, track: 1, note: 0 },
    { time_s: 2, track: 3, note: 1 },
  ],
} as unknown as Arrangement;

describe('the roll', () => {
  const roll = rollOf(arrangement);

  it('has a row for each pitch of the comb, with its teeth', () => {
    expect(roll.rows[0]).toEqual({ midi: 74, teeth: 1 });
    expect(roll.rows.at(-1)).toEqual({ midi: 62, teeth: 2 });
    expect(roll.rows.length).toBe(13);
  });

  it('shows a pluck apart where it lies elsewhere', () => {
    expect(roll.marks.map((m) => m.row)).toEqual([12, 12, 1]);
    expect(roll.marks[0]!.pluck).toBeNull();
    expect(roll.marks[1]!.pluck).toEqual({ row: 0, time: 2 });
    expect(roll.marks[2]!.pluck).toBeNull();
  });

  it('finds the note under the pointer', () => {
    expect(markAt(roll, 1.3, 12, 0.05)).toBe(0);
    expect(markAt(roll, 1.98, 12, 0.05)).toBe(1);
    expect(markAt(roll, 5, 12, 0.05)).toBe(-1);
  });

  it('counts fates', () => {
    expect(fates(arrangement.notes).dropped).toEqual({ notes: 1, weight: 1 / 3 });
  });
});
