// SPDX-License-Identifier: Apache-2.0
import { combName, when } from '../../parts/log';
import { figures } from '../../parts/numbers';
import type { Comb, Counts } from './answers';

export function combWords(comb: Pick<Comb, 'box' | 'comb'>): string {
  return `${comb.box}, ${combName(comb.comb)}`;
}

/** "in use", or when and why it is not. */
export function useWords(comb: Pick<Comb, 'scrapped_at' | 'scrapped_why'>): string {
  if (comb.scrapped_at === null) return 'in use';
  return `scrapped ${when(comb.scrapped_at)}${comb.scrapped_why ? `: ${comb.scrapped_why}` : ''}`;
}

export function many(count: number, one: string, several = `${one}s`): string {
  return `${count} ${count === 1 ? one : several}`;
}

export function countsWords(counts: Counts): string {
  return [
    many(counts.boxes, 'box', 'boxes'),
    many(counts.combs, 'comb'),
    many(counts.teeth, 'tooth', 'teeth'),
    many(counts.readings, 'reading'),
    many(counts.work, 'clip or filing', 'clips and filings'),
    many(counts.tests, 'test'),
  ].join(', ');
}

// By what a refusal begins with, if it does not name the field as an option.
const begins: readonly [RegExp, string][] = [
  [/^track\b/, 'track'],
  [/^".*" is no (day|moment)/s, 'at'],
  [/^the name of who/, 'who'],
  [/^(the remark|the reason|a test needs|a reading is struck)/, 'remark'],
  [/^the frequency/, 'frequency'],
  [/^the standard error/, 'stderr'],
  [/^the decay/, 'decay'],
  [/^the temperature/, 'temperature'],
];

export interface Told {
  /** The key of the field that is wrong; empty if it is none or another one. */
  field: string;
  text: string;
}

/** Which of a form's fields a refusal is about, and its words with the field's name in them. */
export function told(message: string, labels: Readonly<Record<string, string>>): Told {
  const option = /^--([a-z-]+)/.exec(message)?.[1]?.replaceAll('-', '_');
  const field = option ?? begins.find(([words]) => words.test(message))?.[1] ?? '';
  const label = labels[field];
  if (label === undefined) return { field: '', text: message };
  return { field, text: option ? message.replace(/^--[a-z-]+/, label) : message };
}

/** Only what a file may be called everywhere. */
export function fileWord(text: string): string {
  return text.replace(/[^\p{L}\p{N}]+/gu, '-').replace(/^-+|-+$/g, '') || 'comb';
}

/** A name for a copy that no other of another minute has: "records-2024-05-17-0930.db". */
export function copyName(file: string, now: Date): string {
  const two = (value: number) => `${value}`.padStart(2, '0');
  const day = [now.getFullYear(), two(now.getMonth() + 1), two(now.getDate())].join('-');
  return `${file.replace(/\.db$/, '')}-${day}-${two(now.getHours())}${two(now.getMinutes())}.db`;
}

/** Round values within the ends, at most one more than asked for, 1, 2 or 5 of a ten apart. */
export function ticks(low: number, high: number, most: number): number[] {
  const span = high - low;
  if (!(span > 0) || !Number.isFinite(span)) return [low];
  const ten = 10 ** Math.floor(Math.log10(span / most));
  const step = [1, 2, 5, 10].map((k) => k * ten).find((s) => span / s <= most) ?? span;
  const found: number[] = [];
  for (let k = Math.ceil(low / step); k * step <= high && found.length <= most; ++k)
    found.push(k * step);
  return found;
}

export function tickWords(value: number): string {
  return value === 0 ? '0' : `${value > 0 ? '+' : ''}${figures(value, 2)}`;
}
