// SPDX-License-Identifier: Apache-2.0

function variableLength(value) {
  const bytes = [value & 127];
  for (let rest = value >> 7; rest > 0; rest >>= 7) bytes.unshift((rest & 127) | 128);
  return bytes;
}

/**
 * A Standard MIDI File of chords spread over the notes given, one each quarter of a second: the tune
 * of a disc that is as full as a comb allows.
 */
export function denseTune(notes, { chords = 250, voices = 8 } = {}) {
  const ticksPerSecond = 960;
  const events = [];
  for (let chord = 0; chord < chords; ++chord) {
    for (let voice = 0; voice < voices; ++voice) {
      const at = chord * 5 + Math.floor((voice * notes.length) / voices) + ((voice * 3) % 7);
      const note = notes[at % notes.length];
      const start = chord * 0.25;
      events.push({ tick: Math.round(start * ticksPerSecond), bytes: [0x90, note, 80] });
      events.push({ tick: Math.round((start + 0.2) * ticksPerSecond), bytes: [0x80, note, 0] });
    }
  }
  events.sort((a, b) => a.tick - b.tick || a.bytes[0] - b.bytes[0] || a.bytes[1] - b.bytes[1]);
  const track = [];
  let last = 0;
  for (const { tick, bytes } of events) {
    track.push(...variableLength(tick - last), ...bytes);
    last = tick;
  }
  track.push(0, 0xff, 0x2f, 0);
  const header = Buffer.from('MThd\0\0\0\x06\0\0\0\x01\x01\xe0MTrk', 'latin1');
  const length = Buffer.alloc(4);
  length.writeUInt32BE(track.length);
  return Buffer.concat([header, length, Buffer.from(track)]);
}
