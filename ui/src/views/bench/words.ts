// SPDX-License-Identifier: Apache-2.0
import { lengthWords } from '../../parts/log';
import { figures } from '../../parts/numbers';
import type { Advice, Heard, Level, Standing, ToothAnswer } from './answers';
import type { Told } from './told';

/** The big sentence. */
export function adviceWords(advice: Advice): string {
  const length = lengthWords(advice.length_m);
  switch (advice.do) {
    case 'clip':
      return `Clip ${length}`;
    case 'file_root':
      return `File the root ${length}`;
    case 'file_tip':
      return `File the tip ${length}`;
    case 'stop':
      return 'Leave it';
  }
}

/** How to do it, in a line below. */
export function howWords(advice: Advice, weighted: boolean): string {
  if (advice.do === 'stop') return '';
  if (advice.do === 'clip') return 'off the tip end of the weight';
  if (advice.do === 'file_tip' && !weighted)
    return 'thinner at the tip, in a straight line from nothing at the root';
  const from = figures(1000 * (advice.from_m ?? 0));
  const to = figures(1000 * (advice.to_m ?? 0));
  return `off the thickness, from ${from} to ${to} mm from the root, along the tooth; polish it`;
}

export function toldWords(told: Told): string {
  const did = [
    told.clipped && `clipped ${told.clipped}`,
    told.filed_root && `root filed ${told.filed_root}`,
    told.filed_tip && `tip filed ${told.filed_tip}`,
  ].filter(Boolean);
  return did.length > 0 ? did.join(', ') : 'nothing done';
}

export type Stage = 'first' | 'fault' | 'cut' | 'again' | 'in_tune' | 'once_more';

/** Where the work on a tooth stands. */
export function stageOf(tooth: ToothAnswer, told: Told | null): Stage {
  if (told) return 'again';
  if (!tooth.tuning) return 'first';
  if (tooth.findings.some((finding) => finding.level === 'fault')) return 'fault';
  if (tooth.tuning.advice.do !== 'stop') return 'cut';
  return tooth.standing === 'in_tune' ? 'in_tune' : 'once_more';
}

/** The big sentence of a stage. */
export function sentence(tooth: ToothAnswer, told: Told | null): string {
  switch (stageOf(tooth, told)) {
    case 'first':
      return 'Pluck the tooth';
    case 'fault':
      return 'Stop: look below';
    case 'cut':
      return adviceWords(tooth.tuning!.advice);
    case 'again':
      return 'Pluck again';
    case 'in_tune':
      return 'In tune';
    case 'once_more':
      return 'Pluck once more';
  }
}

/** What was heard, where it was not simply filed. */
export function heardWords(heard: Heard, noteOf: (track: number) => string): string {
  const hz = heard.frequency_hz === null ? '' : `${heard.frequency_hz.toFixed(2)} Hz`;
  switch (heard.is) {
    case 'filed':
      return `Reading ${heard.number} is filed: ${hz} as heard.`;
    case 'known':
      return `That recording is reading ${heard.number} already; it counts once.`;
    case 'doubtful':
      return `${hz} is doubtful and was not filed. Pluck again.`;
    case 'elsewhere': {
      const others = heard.tracks.map((track) => `track ${track} (${noteOf(track)})`);
      const whose = others.length > 0 ? ` It may be ${others.join(' or ')}.` : '';
      return `${hz} is not this tooth and was not filed.${whose}`;
    }
    case 'nothing':
      return 'Something sounded, but no tooth.';
  }
}

export const levelWords: Record<Level['is'], string> = {
  no_signal: 'no signal: is the microphone switched on?',
  quiet: 'quiet',
  good: 'good',
  high: 'high: turn it down',
  clipped: 'clipped: turn it down',
};

/** A bar from −60 dB to full scale, 0 to 1. */
export function levelShare(peak_dbfs: number | null): number {
  return peak_dbfs === null ? 0 : Math.min(1, Math.max(0, 1 + peak_dbfs / 60));
}

export const standingWords: Record<Standing, string> = {
  not_read: 'not read',
  flat: 'flat',
  in_tune: 'in tune',
  sharp: 'sharp',
};
/** A shape for each, so that colour is never alone. */
export const standingMarks: Record<Standing, string> = {
  not_read: '○',
  flat: '▼',
  in_tune: '■',
  sharp: '▲',
};

/** "3.1 %": never nothing where it is not. */
export function chance(share: number): string {
  if (share < 0.0005) return 'below 0.05 %';
  return `${figures(100 * share, 2)} %`;
}
