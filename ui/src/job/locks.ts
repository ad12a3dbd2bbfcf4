// SPDX-License-Identifier: Apache-2.0

import { keep, kept } from './kept';

// What is fixed by hand for one box has no reason in another.
const key = (box: string, tune: string) => `locks.${box}.${tune}`;

export function keepLocks(box: string, tune: string, locks: readonly string[]) {
  keep(key(box, tune), locks.length > 0 ? JSON.stringify(locks) : null);
}

export function locksOf(box: string, tune: string): string[] {
  try {
    const locks: unknown = JSON.parse(kept(key(box, tune)) ?? '[]');
    return Array.isArray(locks) ? locks.filter((lock) => typeof lock === 'string') : [];
  } catch {
    return [];
  }
}
