// SPDX-License-Identifier: Apache-2.0
// What the browser keeps of a folder, so that a reload forgets nothing. Where two folders are served
// on one port after another, each has its own.

let folder = '';

/** Says which folder it is, before anything is looked up. */
export function keepOf(id: string) {
  folder = id;
}

const key = (what: string) => `combwright.${folder}.${what}`;

export function kept(what: string): string | null {
  return localStorage.getItem(key(what));
}

/** Nothing is kept where there is nothing to keep. */
export function keep(what: string, value: string | null) {
  if (value === null) localStorage.removeItem(key(what));
  else localStorage.setItem(key(what), value);
}
