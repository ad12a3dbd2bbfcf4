// SPDX-License-Identifier: Apache-2.0

/** Units that people read, and how many there are in one of SI. */
const scales = {
  mm: 1e3,
  um: 1e6,
  s: 1,
  ms: 1e3,
  Hz: 1,
  cent: 1,
  N: 1,
  'N m': 1,
  'N mm': 1e3,
  MPa: 1e-6,
  GPa: 1e-9,
  g: 1e3,
  mg: 1e6,
  J: 1,
  mJ: 1e3,
  '%': 100,
  dB: 1,
  deg: 180 / Math.PI,
  turns: 1,
  'turns/min': 30 / Math.PI,
  '': 1,
} as const;
export type Unit = keyof typeof scales;

/** The number with so many significant figures, without an exponent; a true minus sign. */
export function figures(value: number, count = 3): string {
  if (!Number.isFinite(value)) return '–';
  if (value === 0) return '0';
  const size = Math.floor(Math.log10(Math.abs(value)));
  const places = Math.max(0, count - 1 - size);
  // Rounding may carry into a further place: 0.9996 is 1.00.
  const rounded = Number(value.toFixed(Math.min(places, 15)));
  const grown = rounded !== 0 && Math.floor(Math.log10(Math.abs(rounded))) > size;
  return rounded.toFixed(Math.min(Math.max(0, grown ? places - 1 : places), 15)).replace('-', '−');
}

/** A value of SI in a unit: inUnit(0.0008, 'mm') is "0.800 mm"; a dash for none. */
export function inUnit(value: number | null | undefined, unit: Unit, count = 3): string {
  if (value === null || value === undefined) return '–';
  const text = figures(value * scales[unit], count);
  return unit === '' || text === '–' ? text : `${text} ${unit}`;
}

/** With so many places, so that a column of them aligns: "−0.04"; nothing for none. */
export function fixed(value: number | null, places: number): string {
  return value === null ? '' : withSign(value, places, '');
}

/** The same with its sign where it is not 0: "+3.2". */
export function signed(value: number | null, places: number): string {
  return value === null ? '' : withSign(value, places, '+');
}

function withSign(value: number, places: number, plus: '+' | ''): string {
  const text = Math.abs(value).toFixed(places);
  const sign = Number(text) === 0 ? '' : value > 0 ? plus : '−';
  return sign + text;
}

/** Cents with their sign: "+3.2 cent". */
export function cents(value: number, places = 1): string {
  return `${signed(value, places)} cent`;
}

/** A bare number that was computed, with four digits. */
export function shortened(text: string): string {
  return /^-?\d+\.\d{4,}$/.test(text) ? `${Number(Number(text).toPrecision(4))}` : text;
}

const names = ['C', 'C#', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'G#', 'A', 'Bb', 'B'];

/** The name of a MIDI note: 60 is C4. */
export function noteName(midi: number): string {
  return `${names[((midi % 12) + 12) % 12]}${Math.floor(midi / 12) - 1}`;
}
