// SPDX-License-Identifier: Apache-2.0

const key = (tune: string) => `combwright.locks.${tune}`;

export function keepLocks(tune: string, locks: readonly string[]) {
  if (locks.length > 0) localStorage.setItem(key(tune), JSON.stringify(locks));
  else localStorage.removeItem(key(tune));
}

export function locksOf(tune: string): string[] {
  try {
    const locks: unknown = JSON.parse(localStorage.getItem(key(tune)) ?? '[]');
    return Array.isArray(locks) ? locks.filter((lock) => typeof lock === 'string') : [];
  } catch {
    return [];
  }
}
