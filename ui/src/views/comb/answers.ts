// SPDX-License-Identifier: Apache-2.0
import type { Finding } from '../../job/ask';

/** What the view uses of the answer of docs/commands/comb.md. */
export interface Tooth {
  comb: string;
  track: number;
  radius_m: number;
  note: string;
  midi: number;
  target_hz: number;
  length_m: number;
  width_m: number;
  thickness_m: number;
  tip_thickness_m: number;
  lead: {
    mass_kg: number;
    length_m: number;
    center_m: number;
    height_m: number;
    width_m: number;
    as_cut_mass_kg: number;
    as_cut_length_m: number;
    as_cut_center_m: number;
  } | null;
  modes_as_cut_hz: number[];
  flat_cents: number;
  tip_stiffness_n_m: number;
  lift_m: number;
  pluck_force_n: number;
  root_force_n: number;
  level_db: number;
  root_stress_pa: number;
  ring_stress_pa: number;
  safety_factor: number;
}

export interface Limit {
  limit: string;
  bound: number;
  bound_text: string;
  worst_text: string;
  margin: number;
  track: number;
  broken: number;
}

export interface Comb {
  comb: string;
  plate_thickness_m: number;
  plate_width_m: number;
  plate_inner_radius_m: number;
  plate_depth_m: number;
  screw_radius_m: number[];
  screws_from_tips_m: number;
  force_ratio: number;
  loudness_db: number;
  ring_stress_limit_pa: number;
  limits: Limit[];
}

export interface Combs {
  box: string;
  combs: Comb[];
  teeth: Tooth[];
  findings: Finding[];
  cautions: string[];
}

export interface Shapes {
  comb: string;
  teeth: {
    track: number;
    positions_m: number[];
    modes: { frequency_hz: number; deflections: number[] }[];
    lifted_stress_pa: number[];
  }[];
}

/** What the view uses of the answer of docs/commands/scale.md. */
export interface ScalePlan {
  scale: { midi: number; note: string; track: number }[];
  keys: string;
  added: string[];
  given_up: string[];
  coverage: number;
  coverage_now: number;
  coverage_bound: number;
  tunes: {
    tune: string;
    coverage: number;
    coverage_now: number;
    coverage_bound: number;
    transpose_semitones: number;
    first_bar: number;
    last_bar: number;
  }[];
  next: { note: string; track: number; gain: number }[];
  findings: Finding[];
}
