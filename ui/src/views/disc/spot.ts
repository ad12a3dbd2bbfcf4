// SPDX-License-Identifier: Apache-2.0
import type { Finding } from '../../job/ask';
import type { Projection } from './answers';

/** What of the disc is meant: places among its projections, or a whole track. */
export interface Spot {
  hits: number[];
  /** From 1; 0 for none. */
  track: number;
}

export const nowhere: Spot = { hits: [], track: 0 };

/** Where on the disc a finding lies; nowhere if what it is about is not on it. */
export function spotOf({ at }: Finding, projections: readonly Projection[]): Spot {
  if (!at) return nowhere;
  if (at.hits)
    return { hits: at.hits.map((hit) => hit - 1).filter((i) => i < projections.length), track: 0 };
  if (at.notes) {
    const notes = new Set(at.notes);
    const hits = [...projections.keys()].filter((i) => notes.has(projections[i]!.note));
    return { hits, track: 0 };
  }
  return at.track ? { hits: [], track: at.track } : nowhere;
}

/** True if there is something to point at. */
export const isSomewhere = ({ hits, track }: Spot): boolean => hits.length > 0 || track > 0;
