// SPDX-License-Identifier: Apache-2.0
import type { Finding } from '../../job/ask';
import type { ToothReading } from '../../parts/log';

// As docs/commands/log.md has them.

export interface Reading extends ToothReading {
  box: string;
  comb: string;
  comb_number: number;
  track: number;
  note: string;
  target_hz: number;
  recording: { file: string } | null;
  remark: string;
}

export interface Comb {
  box: string;
  comb: string;
  comb_number: number;
  teeth: number;
  teeth_read: number;
  scrapped_at: string | null;
  scrapped_why: string;
}

export interface Test {
  number: number;
  box: string;
  who: string;
  at: string;
  remark: string;
}

export interface Listing {
  combs: readonly Comb[];
  readings: readonly Reading[];
  tests: readonly Test[];
  in_all: { combs: number; readings: number; tests: number };
  people: readonly string[];
  file: string;
  there: boolean;
}

export interface ToothSum {
  track: number;
  note: string;
  target_hz: number;
  readings: number;
  final_cents: number | null;
  stderr_cents: number | null;
}

export interface OneComb {
  comb: Comb;
  teeth: readonly ToothSum[];
}

export interface Certificate {
  box: string;
  comb: string;
  tolerance_cents: number;
  not_read: readonly number[];
  out_of_tolerance: readonly number[];
  cautions: readonly string[];
  findings: readonly Finding[];
}

export type Counts = Record<
  'boxes' | 'combs' | 'teeth' | 'recordings' | 'readings' | 'work' | 'tests',
  number
>;

/** Of `check`: what the forms choose from. */
export interface Box {
  box: {
    name: string;
    combs: readonly { name: string }[];
    tracks: { list: readonly { track: number; note: string }[] };
  };
}
