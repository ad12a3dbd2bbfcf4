// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import { lockedAs, lockOf, nextLock, withLock } from '../src/views/tune/locks';

const note = { bar: 12, beat: 2 + 1 / 3, midi: 66 };

describe('locks', () => {
  it('are written as the command takes them', () => {
    expect(lockOf({ bar: 12, beat: 3.5, midi: 66 }, 'dropped')).toBe('12 3.5 F#4 dropped');
    expect(lockOf(note, 'kept')).toBe('12 2.3333 F#4 kept');
  });

  it('are found, changed and taken away', () => {
    const one = withLock([], note, 'dropped');
    expect(lockedAs(one, note)).toBe('dropped');
    expect(lockedAs(one, { ...note, midi: 67 })).toBeNull();
    const other = withLock(one, note, 'octave');
    expect(other).toEqual(['12 2.3333 F#4 octave']);
    expect(withLock(other, note, null)).toEqual([]);
  });

  it('go round with a key', () => {
    expect([null, 'dropped', 'octave', 'kept'].map((l) => nextLock(l as never))).toEqual([
      'dropped',
      'octave',
      'kept',
      null,
    ]);
  });
});
