// SPDX-License-Identifier: Apache-2.0
import { describe, expect, test } from 'vitest';
import { Refusal, type Fields } from '../src/job/ask';
import type { Advice, Heard, Part, ToothAnswer } from '../src/views/bench/answers';
import { samplesText, toBase64 } from '../src/views/bench/base64';
import { mostWaiting, Stream } from '../src/views/bench/stream';
import { asAdvised, isLength, lengthText, parseTold } from '../src/views/bench/told';
import {
  adviceWords,
  chance,
  heardWords,
  howWords,
  levelShare,
  sentence,
  stageOf,
  toldWords,
} from '../src/views/bench/words';

const clip: Advice = {
  do: 'clip',
  length_m: 0.00069,
  from_m: null,
  to_m: null,
  expect_cents: -15.3,
  overshoot_probability: 0.002,
  safety_factor: null,
  cuts_to_expect: 2.4,
};
const file: Advice = { ...clip, do: 'file_root', length_m: 1.23e-5, from_m: 0, to_m: 0.0037 };

const tooth = (advice: Advice | null, more: Partial<ToothAnswer> = {}): ToothAnswer => ({
  box: 'bramble',
  comb: 'comb 1',
  track: 7,
  note: 'A4',
  target_hz: 440,
  in_tune_c: 20,
  tolerance_cents: 2,
  standing: 'flat',
  last: 3,
  log: [],
  tuning: advice && {
    measured_hz: 425,
    target_hz: 440,
    offset_cents: -60,
    offset_hz: -15,
    beat_hz: null,
    target_beat_hz: null,
    advice,
  },
  pair_hz: null,
  picture: { length_m: 0.0368, sections: [], weight: null, cut: null },
  next_track: 8,
  cautions: [],
  findings: [],
  ...more,
});

test('a length is known from what is none', () => {
  for (const text of ['', '0.35 mm', '12um', '1/64 in', '1 1/2 in', '.2 mm'])
    expect(isLength(text)).toBe(true);
  for (const text of ['abc', '-0.5 mm', '0.5', '0.5 kg', '1,2,3 mm'])
    expect(isLength(text)).toBe(false);
});

describe('words', () => {
  test('the advice is one short sentence', () => {
    expect(adviceWords(clip)).toBe('Clip 0.69\u00a0mm');
    expect(adviceWords(file)).toBe('File the root 0.012\u00a0mm');
    expect(howWords(file, true)).toContain('from 0 to 3.70 mm from the root');
    expect(chance(0.002)).toBe('0.20 %');
    expect(chance(0.0001)).toBe('below 0.05 %');
  });

  test('the stages of a tooth', () => {
    const stop: Advice = { ...clip, do: 'stop' };
    const told = asAdvised(clip, 3);
    const fault = { level: 'fault' as const, where: '', what: '', do: '' };
    expect(stageOf(tooth(null), null)).toBe('first');
    expect(stageOf(tooth(clip), null)).toBe('cut');
    expect(stageOf(tooth(clip), told)).toBe('again');
    expect(stageOf(tooth(stop, { standing: 'in_tune' }), null)).toBe('in_tune');
    expect(stageOf(tooth(stop), null)).toBe('once_more');
    expect(stageOf(tooth(stop, { findings: [fault] }), null)).toBe('fault');
    expect(sentence(tooth(clip), told)).toBe('Pluck again');
  });

  test('what was heard and not filed says why', () => {
    const heard = { number: null, frequency_hz: 554.37, tracks: [9, 10], findings: [] };
    const words = heardWords({ ...heard, is: 'elsewhere' } as unknown as Heard, () => 'C#5');
    expect(words).toBe(
      '554.37 Hz is not this tooth and was not filed. It may be track 9 (C#5) or track 10 (C#5).',
    );
    expect(heardWords({ ...heard, is: 'doubtful' } as unknown as Heard, () => '')).toContain(
      'not filed',
    );
  });

  test('the bar runs from −60 dB to full scale', () => {
    expect([levelShare(null), levelShare(-90), levelShare(-30), levelShare(0)]).toEqual([
      0, 0, 0.5, 1,
    ]);
  });
});

describe('what was told', () => {
  test('goes with the next pluck as text', () => {
    expect(asAdvised(clip, 3)).toEqual({
      after: 3,
      clipped: '0.69 mm',
      filed_root: '',
      filed_tip: '',
    });
    expect(asAdvised({ ...clip, do: 'stop' }, 3)).toBeNull();
    expect(lengthText(0.00026000000000000003)).toBe('0.26 mm');
    expect(lengthText(1.23e-5)).toBe('0.0123 mm');
    expect(toldWords(asAdvised(file, 0)!)).toBe('root filed 0.0123 mm');
  });

  test('is over once there is a newer reading, and what is no such thing is nothing', () => {
    const kept = JSON.stringify(asAdvised(clip, 3));
    expect(parseTold(kept, 3)).toEqual(asAdvised(clip, 3));
    expect(parseTold(kept, 4)).toBeNull();
    for (const wrong of [null, '', '{', '{}', '3', '{"after":3}'])
      expect(parseTold(wrong, 3)).toBeNull();
  });
});

test('bytes as RFC 4648 has them', () => {
  const bytes = (text: string) => new TextEncoder().encode(text);
  expect(['', 'f', 'fo', 'foo', 'foobar'].map((text) => toBase64(bytes(text)))).toEqual([
    '',
    'Zg==',
    'Zm8=',
    'Zm9v',
    'Zm9vYmFy',
  ]);
  // IEEE 754: 1 is 3F800000.
  expect(samplesText(new Float32Array([1]))).toBe('AACAPw==');
});

describe('live sound', () => {
  const part = (next_part: number): Part => ({
    next_part,
    level: { peak_dbfs: -20, is: 'good' },
    ringing_s: null,
    heard: [],
    tooth: null,
  });

  function streamOf(answer: (fields: Fields, turn: number) => Promise<Part>) {
    const asked: Fields[] = [];
    const said: string[] = [];
    const stream = new Stream(48000, {
      fields: () => ({ track: 7 }),
      ask: (fields) => {
        asked.push(fields);
        return answer(fields, asked.length);
      },
      heard: () => said.push('heard'),
      trouble: (refusal) => said.push(refusal ? `trouble ${refusal.status}` : 'well'),
      begun: () => said.push('begun'),
      wait: async () => {},
    });
    return { stream, asked, said };
  }
  /** Every part is taken, but the question asked as such a one is refused. */
  const refusing = (which: number, refusal: Refusal) => async (fields: Fields, turn: number) => {
    if (turn === which) throw refusal;
    return part((fields.part as number) + 1);
  };
  const settle = () => new Promise((done) => setTimeout(done, 5));
  const numbers = (asked: Fields[]) => asked.map((one) => one.part);

  test('goes part after part, one at a time', async () => {
    const { stream, asked, said } = streamOf(async (fields) => part((fields.part as number) + 1));
    for (let i = 0; i < 3; i++) stream.push(new Float32Array(4));
    await settle();
    expect(numbers(asked)).toEqual([0, 1, 2]);
    expect(said).toEqual(['heard', 'heard', 'heard']);
    expect(new Set(asked.map((one) => one.session)).size).toBe(1);
  });

  test('a part without an answer is sent again', async () => {
    const { stream, asked, said } = streamOf(refusing(2, new Refusal(0, 'gone')));
    for (let i = 0; i < 3; i++) stream.push(new Float32Array(4));
    await settle();
    expect(numbers(asked)).toEqual([0, 1, 1, 2]);
    expect(said).toEqual(['heard', 'trouble 0', 'well', 'heard', 'heard']);
  });

  test('where the server has lost the thread, a new sound begins', async () => {
    const { stream, asked, said } = streamOf(refusing(2, new Refusal(409, 'was due')));
    stream.push(new Float32Array(4));
    stream.push(new Float32Array(4));
    await settle();
    stream.push(new Float32Array(4));
    await settle();
    expect(numbers(asked)).toEqual([0, 1, 0]);
    expect(asked[2]!.session).not.toBe(asked[1]!.session);
    expect(said).toEqual(['heard', 'begun', 'heard']);
  });

  test('what a busy server did not take is sent again, as it is', async () => {
    const { stream, asked, said } = streamOf(refusing(1, new Refusal(503, 'too much at once')));
    stream.push(new Float32Array(4));
    await settle();
    expect(asked[1]).toEqual(asked[0]);
    expect(said).toEqual(['trouble 503', 'well', 'heard']);
  });

  test('after a refusal it is looked what was filed, so that no cut is told twice', async () => {
    const { stream, asked, said } = streamOf(refusing(1, new Refusal(400, 'the records are full')));
    stream.push(new Float32Array(4));
    stream.push(new Float32Array(4));
    await settle();
    expect(said.slice(0, 2)).toEqual(['trouble 400', 'begun']);
    expect(asked.length).toBe(1);
    stream.push(new Float32Array(4));
    await settle();
    expect(asked[1]!.session).not.toBe(asked[0]!.session);
  });

  test('what waits is bounded', async () => {
    let free = () => {};
    const { stream, asked } = streamOf(async (fields) => {
      await new Promise<void>((done) => (free = done));
      return part((fields.part as number) + 1);
    });
    for (let i = 0; i < 3 * mostWaiting; i++) stream.push(new Float32Array(4));
    expect(asked.length).toBe(1);
    stream.end();
    free();
    await settle();
    expect(asked.length).toBe(1);
  });
});
