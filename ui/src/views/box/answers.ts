// SPDX-License-Identifier: Apache-2.0
import type { Finding, Place } from '../../job/ask';

/** Of GET /api/keys. */
export interface Key {
  name: string;
  kind:
    | 'quantity'
    | 'quantities'
    | 'number'
    | 'integer'
    | 'integers'
    | 'text'
    | 'stroke'
    | 'choice'
    | 'notes';
  write: string;
  least: string;
  greatest: string;
  absent: 'required' | 'default' | 'derived';
  otherwise: string;
  choices: readonly string[];
  help: string;
}

export interface Section {
  name: string;
  help: string;
  repeated: boolean;
  greatest_rows: number;
  keys: readonly Key[];
}

export interface Keys {
  sections: readonly Section[];
}

/** A key as a box text has it. */
export interface Setting {
  key: string;
  section: string;
  row: number;
  name: string;
  value: string | null;
  from: 'given' | 'default' | 'derived' | null;
  otherwise: string | null;
  line: number | null;
}

export interface Problem {
  error: string;
  place: Place | null;
  /** The key or the section that stands there; empty for nothing. */
  where: string;
}

export interface Settings {
  settings: readonly Setting[];
  findings: readonly Finding[];
  problem: Problem | null;
}

export interface Edit {
  section: string;
  row: number;
  name: string;
  value: string | null;
}

export interface Figure {
  name: string;
  title: string;
  svg: string;
}
