// SPDX-License-Identifier: Apache-2.0

import { keep, kept } from './kept';

/** A box text that is not saved, and the version of the file that it was made from. */
export interface Draft {
  version: string;
  text: string;
}

const key = (name: string) => `draft.${name}`;

export function keepDraft(name: string, draft: Draft) {
  keep(key(name), JSON.stringify(draft));
}

export function dropDraft(name: string) {
  keep(key(name), null);
}

export function draftOf(name: string): Draft | null {
  try {
    const draft = JSON.parse(kept(key(name)) ?? 'null') as Partial<Draft> | null;
    return typeof draft?.text === 'string' && typeof draft.version === 'string'
      ? { text: draft.text, version: draft.version }
      : null;
  } catch {
    return null;
  }
}
