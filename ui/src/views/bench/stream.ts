// SPDX-License-Identifier: Apache-2.0
import { Refusal, type Fields } from '../../job/ask';
import type { Part } from './answers';
import { samplesText } from './base64';

export interface Listeners {
  /** Fields of the tooth at hand, what was done to it, who and how warm. */
  fields: () => Fields;
  ask: (fields: Fields) => Promise<Part>;
  heard: (part: Part) => void;
  /** What keeps it from listening; nothing once it does again. */
  trouble: (refusal: Refusal | null) => void;
  /** The server did not know the sound any more: what is on the page may be old. */
  begun: () => void;
  wait: (ms: number) => Promise<void>;
}

/** So much sound waits for a server that does not answer, in parts; what is older is given up. */
export const mostWaiting = 50;

/**
 * Sends live sound part after part, one at a time, each once. A part that got no answer is sent
 * again; where the server has lost the thread a new sound begins.
 */
export class Stream {
  private waiting: Float32Array[] = [];
  private name = '';
  private part = 0;
  private sending = false;
  private troubled = false;
  private ended = false;
  private turn = 0;

  constructor(
    private readonly rate_hz: number,
    private readonly on: Listeners,
  ) {
    this.begin();
  }

  /** From here on it is another tooth: what sounded before is not listened to. */
  begin() {
    this.name = crypto.randomUUID();
    this.part = 0;
    this.waiting = [];
    this.turn += 1;
  }

  push(samples: Float32Array) {
    if (this.ended) return;
    if (this.waiting.length >= mostWaiting) this.begin();
    this.waiting.push(samples);
    void this.send();
  }

  end() {
    this.ended = true;
    this.waiting = [];
    this.turn += 1;
  }

  private async send() {
    if (this.sending) return;
    this.sending = true;
    try {
      while (this.waiting.length > 0) await this.sendOne(this.waiting[0]!, this.turn);
    } finally {
      this.sending = false;
    }
  }

  private async sendOne(samples: Float32Array, turn: number) {
    let part: Part;
    try {
      part = await this.on.ask({
        ...this.on.fields(),
        session: this.name,
        part: this.part,
        rate_hz: this.rate_hz,
        samples: samplesText(samples),
      });
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      if (turn !== this.turn) return;
      if (error.status === 409) {
        this.begin();
        this.on.begun();
        return;
      }
      this.told(error);
      // Not even taken where it did not answer or was busy; else something may have been filed.
      if (error.status !== 0 && error.status !== 503) {
        this.begin();
        this.on.begun();
      }
      await this.on.wait(500);
      return;
    }
    this.told(null);
    if (turn === this.turn) {
      this.part = part.next_part;
      this.waiting.shift();
    }
    // What was filed is told even if the tooth at hand is another by now.
    if (turn === this.turn || part.tooth) this.on.heard(part);
  }

  private told(refusal: Refusal | null) {
    if (refusal === null && !this.troubled) return;
    this.troubled = refusal !== null;
    this.on.trouble(refusal);
  }
}
