// SPDX-License-Identifier: Apache-2.0
import { keep, kept } from '../../job/kept';
import type { Advice } from './answers';

/** What was done to a tooth and will be filed with its next pluck: texts with units. */
export interface Told {
  /** Number of the tooth's reading that it came after; 0 before the first. */
  after: number;
  clipped: string;
  filed_root: string;
  filed_tip: string;
}

/** A length as it is told: "0.69 mm". */
export function lengthText(length_m: number): string {
  return length_m === 0 ? '' : `${Number((1000 * length_m).toPrecision(6))} mm`;
}

/** Whether a text is a length as the records take it; an empty one is none, and right. */
export function isLength(text: string): boolean {
  return /^((\d+ )?\d+\/\d+|\d+\.?\d*|\.\d+) ?(mm|cm|m|um|in)$|^$/.test(text);
}

/** The advice as done; nothing where there is nothing to do. */
export function asAdvised(advice: Advice, after: number): Told | null {
  if (advice.do === 'stop') return null;
  const length = lengthText(advice.length_m);
  return {
    after,
    clipped: advice.do === 'clip' ? length : '',
    filed_root: advice.do === 'file_root' ? length : '',
    filed_tip: advice.do === 'file_tip' ? length : '',
  };
}

// Kept in the browser until a pluck takes it along, so that a reload forgets no cut.
const key = (box: string, comb: string, track: number) => `told.${box}.${comb}.${track}`;

export function keepTold(box: string, comb: string, track: number, told: Told | null) {
  keep(key(box, comb, track), told ? JSON.stringify(told) : null);
}

/** What was told of a tooth whose last reading has that number; nothing if it has gone with one. */
export function toldOf(box: string, comb: string, track: number, last: number): Told | null {
  return parseTold(kept(key(box, comb, track)), last);
}

export function parseTold(kept: string | null, last: number): Told | null {
  try {
    const told = JSON.parse(kept ?? 'null') as Partial<Told> | null;
    const texts = [told?.clipped, told?.filed_root, told?.filed_tip];
    if (told?.after !== last || texts.some((text) => typeof text !== 'string')) return null;
    return told as Told;
  } catch {
    return null;
  }
}
