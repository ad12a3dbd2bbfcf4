// SPDX-License-Identifier: Apache-2.0
import { noteName } from '../../parts/numbers';
import type { Fate, Note } from './answers';

/** Fates that a note can be fixed to, in the order in which a key goes through them. */
export const lockable = ['dropped', 'octave', 'kept'] as const satisfies readonly Fate[];
export type Lockable = (typeof lockable)[number];

/** A lock as the server takes it: "12 3.5 F#4 dropped". */
export function lockOf(note: Pick<Note, 'bar' | 'beat' | 'midi'>, fate: Lockable): string {
  return `${note.bar} ${Number(note.beat.toFixed(4))} ${noteName(note.midi)} ${fate}`;
}

const ofNote = (lock: string) => lock.slice(0, lock.lastIndexOf(' '));

/** The lock of a note among several, if it has one. */
export function lockedAs(
  locks: readonly string[],
  note: Pick<Note, 'bar' | 'beat' | 'midi'>,
): Lockable | null {
  const found = locks.find((lock) => ofNote(lock) === ofNote(lockOf(note, 'kept')));
  return found ? (found.slice(found.lastIndexOf(' ') + 1) as Lockable) : null;
}

/** The locks with the note fixed to a fate, or free again for null. */
export function withLock(
  locks: readonly string[],
  note: Pick<Note, 'bar' | 'beat' | 'midi'>,
  fate: Lockable | null,
): string[] {
  const others = locks.filter((lock) => ofNote(lock) !== ofNote(lockOf(note, 'kept')));
  return fate ? [...others, lockOf(note, fate)] : others;
}

/** The next in turn: free, dropped, octave, kept, free. */
export function nextLock(now: Lockable | null): Lockable | null {
  const at = now === null ? -1 : lockable.indexOf(now);
  return lockable[at + 1] ?? null;
}
