// SPDX-License-Identifier: Apache-2.0
import type { Arrangement, Note } from './answers';

/** Where a note and its pluck lie in a roll: seconds across, rows of pitch from the top. */
export interface Mark {
  note: Note;
  row: number;
  /** Of the pluck, where it lies on another row or moment. */
  pluck: { row: number; time: number } | null;
}

export interface Roll {
  marks: Mark[];
  /** Pitches by row, highest first, and how many teeth each has. */
  rows: { midi: number; teeth: number }[];
  seconds: number;
}

/** The roll of an arrangement, in the pitch of the comb. */
export function rollOf(arrangement: Arrangement): Roll {
  const { notes, plucks, tracks, transpose_semitones: up } = arrangement;
  const pitches = [...notes.map((n) => n.midi + up), ...tracks.map((t) => t.midi)];
  const highest = Math.max(...pitches);
  const lowest = Math.min(...pitches);
  const teeth = new Map<number, number>();
  for (const { midi } of tracks) teeth.set(midi, (teeth.get(midi) ?? 0) + 1);
  const rows = Array.from({ length: highest - lowest + 1 }, (_, i) => ({
    midi: highest - i,
    teeth: teeth.get(highest - i) ?? 0,
  }));
  const ofTrack = new Map(tracks.map((t) => [t.track, t.midi]));
  const ofNote = new Map(plucks.map((p) => [p.note, p]));
  const marks = notes.map((note) => {
    const row = highest - (note.midi + up);
    const pluck = ofNote.get(note.index);
    if (!pluck) return { note, row, pluck: null };
    const at = { row: highest - ofTrack.get(pluck.track)!, time: pluck.time_s };
    const apart = at.row !== row || Math.abs(at.time - note.onset_s) > 1e-6;
    return { note, row, pluck: apart ? at : null };
  });
  return { marks, rows, seconds: arrangement.turn_time_s };
}

/** The mark whose bar covers a place, or begins nearest to it in the row; -1 for none. */
export function markAt(roll: Roll, seconds: number, row: number, slack: number): number {
  let found = -1;
  let least = slack;
  roll.marks.forEach(({ note, row: at }, i) => {
    if (at !== row) return;
    const end = note.onset_s + Math.max(note.duration_s, slack);
    if (seconds < note.onset_s - slack || seconds > end) return;
    const away = Math.abs(seconds - note.onset_s);
    if (found < 0 || away < least) {
      found = i;
      least = away;
    }
  });
  return found;
}

/** Counts of each fate, and of what each is worth of all. */
export function fates(
  notes: readonly Note[],
): Record<Note['fate'], { notes: number; weight: number }> {
  const all = notes.reduce((sum, n) => sum + n.weight, 0) || 1;
  const of = (fate: Note['fate']) => {
    const those = notes.filter((n) => n.fate === fate);
    return { notes: those.length, weight: those.reduce((sum, n) => sum + n.weight, 0) / all };
  };
  return { kept: of('kept'), octave: of('octave'), moved: of('moved'), dropped: of('dropped') };
}
