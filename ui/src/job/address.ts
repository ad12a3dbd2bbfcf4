// SPDX-License-Identifier: Apache-2.0

export const viewNames = ['box', 'tune', 'disc', 'comb', 'bench', 'motor', 'records'] as const;
export type ViewName = (typeof viewNames)[number];

/** What the address says: the view, and the choices that a reload or a link must keep. */
export interface Address {
  view: ViewName;
  choices: Record<string, string>;
}

export function parseAddress(path: string, search: string): Address {
  const word = path.replaceAll('/', '');
  const view = viewNames.find((name) => name === word) ?? 'box';
  return { view, choices: Object.fromEntries(new URLSearchParams(search)) };
}

/** Choices that are empty are left out; the others stand in the order of their names. */
export function toPath({ view, choices }: Address): string {
  const given = Object.entries(choices).filter(([, value]) => value !== '');
  given.sort(([a], [b]) => (a < b ? -1 : 1));
  const search = new URLSearchParams(given).toString();
  return `/${view}${search ? `?${search}` : ''}`;
}
