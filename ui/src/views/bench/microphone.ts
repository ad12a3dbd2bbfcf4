// SPDX-License-Identifier: Apache-2.0
import collectorAddress from './collector.js?url';

const most_rate_hz = 96000;

/** Live sound in parts of a tenth of a second, as the device gives it. */
export class Microphone {
  private constructor(
    private readonly stream: MediaStream,
    private readonly context: AudioContext,
  ) {}

  get rate_hz(): number {
    return this.context.sampleRate;
  }

  /** Asks for permission where that is needed. Throws DOMException if there is none, or no device. */
  static async open(
    device: string,
    onpart: (samples: Float32Array) => void,
    onended: () => void,
  ): Promise<Microphone> {
    // Whatever "improves" speech bends the decay of a tooth.
    const plain = { echoCancellation: false, noiseSuppression: false, autoGainControl: false };
    const stream = await navigator.mediaDevices.getUserMedia({
      audio: { ...plain, channelCount: 1, ...(device ? { deviceId: { exact: device } } : {}) },
    });
    let context = new AudioContext();
    if (context.sampleRate > most_rate_hz) {
      await context.close();
      context = new AudioContext({ sampleRate: 48000 });
    }
    await context.audioWorklet.addModule(collectorAddress);
    const collector = new AudioWorkletNode(context, 'collector', { numberOfOutputs: 0 });
    collector.port.onmessage = (event: MessageEvent<Float32Array>) => onpart(event.data);
    context.createMediaStreamSource(stream).connect(collector);
    stream.getAudioTracks()[0]?.addEventListener('ended', onended);
    await context.resume();
    return new Microphone(stream, context);
  }

  /** Named only once permission was given. */
  static async devices(): Promise<{ id: string; name: string }[]> {
    const all = await navigator.mediaDevices.enumerateDevices();
    return all
      .filter((one) => one.kind === 'audioinput' && one.deviceId)
      .map((one, i) => ({ id: one.deviceId, name: one.label || `Microphone ${i + 1}` }));
  }

  async close() {
    for (const track of this.stream.getTracks()) track.stop();
    await this.context.close();
  }
}
