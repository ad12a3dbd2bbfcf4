// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import type { Finding } from '../src/job/ask';
import type { Projection } from '../src/views/disc/answers';
import { isSomewhere, spotOf } from '../src/views/disc/spot';

const projections = [5, 9, 5, 7].map((note) => ({ note, track: 1 }) as Projection);
const finding = (at?: Finding['at']): Finding => ({
  level: 'note',
  where: '',
  what: '',
  do: '',
  at,
});

describe('the spot of a finding', () => {
  it('is its hits, counted from 1, where it names them', () => {
    expect(spotOf(finding({ track: 1, hits: [4, 2] }), projections)).toEqual({
      hits: [3, 1],
      track: 0,
    });
  });

  it('is the projections of its notes', () => {
    expect(spotOf(finding({ notes: [5, 6] }), projections).hits).toEqual([0, 2]);
  });

  it('is the whole track where only that is named', () => {
    expect(spotOf(finding({ track: 3 }), projections)).toEqual({ hits: [], track: 3 });
  });

  it('is nowhere for what is not on the disc', () => {
    expect(isSomewhere(spotOf(finding(), projections))).toBe(false);
    expect(isSomewhere(spotOf(finding({ notes: [6] }), projections))).toBe(false);
    expect(isSomewhere(spotOf(finding({ hits: [9] }), projections))).toBe(false);
    expect(isSomewhere(spotOf(finding({ hits: [2] }), projections))).toBe(true);
  });
});
