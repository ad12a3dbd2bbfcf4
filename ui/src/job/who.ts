// SPDX-License-Identifier: Apache-2.0
// Who reads and tests, at the bench and for the records, as the browser last heard.
const key = 'combwright.who';

export function lastWho(): string {
  return localStorage.getItem(key) ?? '';
}

export function keepWho(name: string) {
  localStorage.setItem(key, name);
}
