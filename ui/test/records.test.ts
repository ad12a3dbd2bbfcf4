// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import { when, workWords } from '../src/parts/log';
import {
  combWords,
  copyName,
  countsWords,
  fileWord,
  ticks,
  told,
  useWords,
} from '../src/views/records/words';

describe('what the records say in words', () => {
  it('tells work in its order', () => {
    expect(workWords([])).toBe('');
    expect(
      workWords([
        { do: 'clip', length_m: 0.00035 },
        { do: 'file_root', length_m: 0.00002 },
      ]),
    ).toBe('clipped 0.35\u00a0mm, root filed 0.020\u00a0mm');
  });

  it('tells days and moments', () => {
    expect(when('2024-05-17')).toBe('2024-05-17');
    expect(when('2024-05-17T09:30:15Z')).toBe('2024-05-17 09:30');
  });

  it('names combs and what became of them', () => {
    expect(combWords({ box: 'larkspur', comb: 'back' })).toBe('larkspur, comb back');
    expect(combWords({ box: 'bramble', comb: 'comb 1' })).toBe('bramble, comb 1');
    expect(useWords({ scrapped_at: null, scrapped_why: '' })).toBe('in use');
    expect(useWords({ scrapped_at: '2024-05-17', scrapped_why: 'lead gone' })).toBe(
      'scrapped 2024-05-17: lead gone',
    );
  });

  it('counts one as one', () => {
    const counts = { boxes: 1, combs: 2, teeth: 30, recordings: 0, readings: 1, work: 0, tests: 4 };
    expect(countsWords(counts)).toBe(
      '1 box, 2 combs, 30 teeth, 1 reading, 0 clips and filings, 4 tests',
    );
  });
});

describe('what is typed', () => {
  it('is told wrong at its field, by the name that the field has', () => {
    const labels = {
      frequency: 'Pitch as heard',
      filed_root: 'Filed off the root',
      track: 'Tooth',
    };
    expect(told('--frequency is 36 Hz, over an octave', labels)).toEqual({
      field: 'frequency',
      text: 'Pitch as heard is 36 Hz, over an octave',
    });
    expect(told('--filed-root "x" cannot be', labels).field).toBe('filed_root');
    expect(told('track 99 is not one of the teeth', labels).field).toBe('track');
    expect(told('the disk is full', labels)).toEqual({ field: '', text: 'the disk is full' });
    // A field that the form does not have.
    expect(told('"x" is no day or moment', labels).field).toBe('');
  });
});

describe('names of files', () => {
  it('hold what every system takes', () => {
    expect(fileWord('a/b: c')).toBe('a-b-c');
    expect(fileWord('小夜曲')).toBe('小夜曲');
    expect(fileWord('../..')).toBe('comb');
  });

  it('tell when a copy was made', () => {
    expect(copyName('records.db', new Date(2024, 4, 7, 9, 5))).toBe('records-2024-05-07-0905.db');
  });
});

describe('marks of an axis', () => {
  it('are round and few', () => {
    expect(ticks(-42, 3, 6)).toEqual([-40, -30, -20, -10, 0]);
    expect(ticks(-0.5, 0.5, 6).map((value) => value.toFixed(1))).toEqual([
      '-0.4',
      '-0.2',
      '0.0',
      '0.2',
      '0.4',
    ]);
    expect(ticks(1, 1, 6)).toEqual([1]);
    expect(ticks(0, Number.POSITIVE_INFINITY, 6)).toEqual([0]);
  });
});
