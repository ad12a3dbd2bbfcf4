// SPDX-License-Identifier: Apache-2.0
import type { Finding } from '../../job/ask';
import type { ToothReading } from '../../parts/log';

export type Standing = 'not_read' | 'flat' | 'in_tune' | 'sharp';

export interface CombTooth {
  track: number;
  note: string;
  target_hz: number;
  readings: number;
  final_cents: number | null;
  standing: Standing;
}

/** Of `bench/comb`. */
export interface CombAnswer {
  box: string;
  comb: string;
  combs: string[];
  tolerance_cents: number;
  in_tune_c: number;
  teeth: CombTooth[];
  not_read: number[];
  cautions: string[];
}

export interface Advice {
  do: 'clip' | 'file_root' | 'file_tip' | 'stop';
  length_m: number;
  from_m: number | null;
  to_m: number | null;
  expect_cents: number;
  overshoot_probability: number;
  safety_factor: number | null;
  cuts_to_expect: number;
}

export interface Tuning {
  measured_hz: number;
  target_hz: number;
  offset_cents: number;
  offset_hz: number;
  beat_hz: number | null;
  target_beat_hz: number | null;
  advice: Advice;
}

export interface Picture {
  length_m: number;
  sections: { length_m: number; root_thickness_m: number; tip_thickness_m: number }[];
  weight: { from_m: number; to_m: number; as_cut_to_m: number; height_m: number } | null;
  cut: { from_m: number; to_m: number } | null;
}

/** Of `bench/tooth`. */
export interface ToothAnswer {
  box: string;
  comb: string;
  track: number;
  note: string;
  target_hz: number;
  in_tune_c: number;
  tolerance_cents: number;
  standing: Standing;
  last: number | null;
  log: ToothReading[];
  tuning: Tuning | null;
  pair_hz: number | null;
  picture: Picture;
  next_track: number | null;
  cautions: string[];
  findings: Finding[];
}

export interface Heard {
  is: 'filed' | 'known' | 'doubtful' | 'elsewhere' | 'nothing';
  number: number | null;
  frequency_hz: number | null;
  tracks: number[];
  findings: Finding[];
}

export interface Level {
  peak_dbfs: number | null;
  is: 'no_signal' | 'quiet' | 'good' | 'high' | 'clipped';
}

/** Of `bench/listen`. */
export interface Part {
  next_part: number;
  level: Level;
  ringing_s: number | null;
  heard: Heard[];
  tooth: ToothAnswer | null;
}
