// SPDX-License-Identifier: Apache-2.0
import type { Finding } from '../../job/ask';

export type Fate = 'kept' | 'octave' | 'moved' | 'dropped';

export interface Note {
  index: number;
  onset_s: number;
  duration_s: number;
  midi: number;
  weight: number;
  role: 'melody' | 'bass' | 'inner';
  fate: Fate;
  why?: string;
  bar: number;
  beat: number;
  part: number;
  locked?: boolean;
}

export interface Trial {
  transpose_semitones: number;
  tempo_factor: number;
  bound: number;
  fidelity: number | null;
}

/** What the view uses of the answer of docs/commands/arrange.md. */
export interface Arrangement {
  title: string;
  transpose_semitones: number;
  tempo_factor: number;
  turn_time_s: number;
  first_bar: number;
  last_bar: number;
  fidelity: number;
  fidelity_bound: number;
  tracks: { track: number; midi: number; min_interval_s: number }[];
  notes: Note[];
  plucks: { time_s: number; track: number; note: number }[];
  trials: Trial[];
  findings: Finding[];
}

/** What was read of a tune's file. */
export interface Read {
  title: string;
  composer: string;
  length_s: number;
  parts: { name: string; notes: number; lowest_midi: number | null; highest_midi: number | null }[];
  bars: number;
  tempos: { start_s: number; quarters_per_minute: number }[];
  meters: { bar: number; beats: number; beat_unit: number }[];
  percussion_notes: number;
  findings: Finding[];
}
