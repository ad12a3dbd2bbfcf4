// SPDX-License-Identifier: Apache-2.0
import type { Finding } from '../../job/ask';

/** What the view uses of the answers of docs/commands/motor.md. */
export interface Prediction {
  tune: string | null;
  turn_time_s: number;
  turn_time_bounds_s: [number, number];
  turns_used: number;
  torque: [number, number][];
  winding_torque: [number, number][];
  running_torque: [number, number][];
  plays: number;
  turns_without_stop: number;
  margin: number | null;
  run_time_s: number;
  mean_turn_time_s: number;
  tempo_drop: number;
  speed: [number, number][];
  energy_j: Record<'spring' | 'plucks' | 'train' | 'governor' | 'disc' | 'left' | 'coils', number>;
  stall: { turn: number; time_s: number } | null;
  spring: {
    full_turns: number;
    last_turns: number;
    greatest_stress_pa: number;
    life_winds: number | null;
  };
  train: {
    wheel: number;
    pinion: number;
    wheel_torque_nm: number;
    contact_ratio: number;
    bending_stress_pa: number;
    contact_stress_pa: number;
  }[];
  governor: {
    kind: 'vane' | 'friction';
    speed_rad_s: number;
    holds: boolean;
    set_vane_pitch_rad?: number;
    set_weight_preload_n?: number;
  };
  winding: { key_turns: number; greatest_force_n: number; work_j: number };
  findings: Finding[];
  cautions: string[];
}

export interface Sizing {
  wishes: { plays: number; turn_time_s: number; tempo_drop: number; barrel_radius_m: number };
  designs: {
    strip_width_m: number;
    strip_thickness_m: number;
    strip_length_m: number;
    strip_mass_kg: number;
    barrel_radius_m: number;
    wheels: number[];
    pinions: number[];
    governor: string;
    plays: number;
    mean_turn_time_s: number;
    tempo_drop: number;
    margin: number | null;
    greatest_force_n: number;
    life_winds: number | null;
    why: string;
    keys: string;
  }[];
  binding: string;
  tried: number;
  findings: Finding[];
  cautions: string[];
}
