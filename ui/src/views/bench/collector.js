// SPDX-License-Identifier: Apache-2.0
// Runs beside the sound: collects the first channel in parts of a tenth of a second.
class Collector extends AudioWorkletProcessor {
  constructor() {
    super();
    this.part = new Float32Array(Math.round(sampleRate / 10));
    this.filled = 0;
  }

  process([input]) {
    const channel = input?.[0];
    if (!channel) return true;
    let from = 0;
    while (from < channel.length) {
      const count = Math.min(channel.length - from, this.part.length - this.filled);
      this.part.set(channel.subarray(from, from + count), this.filled);
      this.filled += count;
      from += count;
      if (this.filled < this.part.length) continue;
      this.port.postMessage(this.part);
      this.part = new Float32Array(this.part.length);
      this.filled = 0;
    }
    return true;
  }
}

registerProcessor('collector', Collector);
