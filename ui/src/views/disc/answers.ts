// SPDX-License-Identifier: Apache-2.0
import type { Finding } from '../../job/ask';

export interface Projection {
  track: number;
  midi: number;
  radius_m: number;
  angle_rad: number;
  time_s: number;
  note: number;
  bar: number;
}

/** In mm, y up. */
export interface Drawing {
  polylines: { layer: string; points: number[]; closed: boolean }[];
  circles: { layer: string; x: number; y: number; radius: number }[];
  lines: { layer: string; points: number[] }[];
}

/** What the view uses of the answer of docs/commands/disc.md. */
export interface Disc {
  box: string;
  tune: string;
  arranged: {
    transpose_semitones: number;
    tempo_factor: number;
    first_bar: number;
    last_bar: number;
    fidelity: number;
    locked: number;
  };
  turn_time_s: number;
  outer_radius_m: number;
  tour: { length_s: number; bound_s: number };
  /** In the order of the punch. */
  projections: Projection[];
  tracks: {
    track: number;
    midi: number;
    radius_m: number;
    release_arc_m: number;
    release_delay_s: number;
  }[];
  geometry: {
    disc: { turning: 'clockwise' | 'counter-clockwise'; thickness_m: number };
    hold_down: { roller_radius_m: number[]; roller_width_m: number };
  };
  drawing: Drawing;
  findings: Finding[];
  cautions: string[];
}

export interface Files {
  files: { path: string; for: string }[];
  cautions: string[];
}
