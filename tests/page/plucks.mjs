// SPDX-License-Identifier: Apache-2.0

const rate_hz = 48000;

/**
 * What a microphone hears: decaying tones in a little noise, one every apart_s, each held after a
 * while if that is said, as a WAV file of 16 bits.
 */
export function pluckSound(pitches_hz, { first_s, apart_s, held_after_s = Infinity }) {
  const count = rate_hz * (first_s + apart_s * pitches_hz.length);
  const bytes = Buffer.alloc(44 + 2 * count);
  bytes.write('RIFF', 0);
  bytes.writeUInt32LE(36 + 2 * count, 4);
  bytes.write('WAVEfmt ', 8);
  bytes.writeUInt32LE(16, 16);
  bytes.writeUInt16LE(1, 20);
  bytes.writeUInt16LE(1, 22);
  bytes.writeUInt32LE(rate_hz, 24);
  bytes.writeUInt32LE(2 * rate_hz, 28);
  bytes.writeUInt16LE(2, 32);
  bytes.writeUInt16LE(16, 34);
  bytes.write('data', 36);
  bytes.writeUInt32LE(2 * count, 40);
  let seed = 1;
  for (let n = 0; n < count; n++) {
    seed = (seed * 1664525 + 1013904223) % 4294967296;
    let sample = (seed / 4294967296 - 0.5) * 6e-4;
    pitches_hz.forEach((hz, i) => {
      const t = n / rate_hz - first_s - apart_s * i;
      if (t < 0 || t >= apart_s) return;
      const held = t < held_after_s ? 1 : Math.exp(-(t - held_after_s) / 0.003);
      sample += 0.3 * held * Math.exp(-t / 0.4) * Math.sin(2 * Math.PI * hz * t);
    });
    bytes.writeInt16LE(Math.round(32767 * sample), 44 + 2 * n);
  }
  return bytes;
}
