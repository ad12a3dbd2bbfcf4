// SPDX-License-Identifier: Apache-2.0
import { ask, Refusal, type Fields } from './ask';

/**
 * The answer to a question whose fields change: asking again drops the question before, and the
 * last answer stays until there is a new one, so that a picture does not flicker.
 */
export class Answer<T> {
  value = $state.raw<T | null>(null);
  refusal = $state.raw<Refusal | null>(null);
  waiting = $state(false);
  doing = $state('');

  private under: AbortController | null = null;

  constructor(private readonly question: string) {}

  async ask(fields: Fields): Promise<void> {
    this.under?.abort();
    const under = new AbortController();
    this.under = under;
    this.waiting = true;
    this.doing = '';
    const doing = (what: string) => {
      if (this.under === under) this.doing = what;
    };
    try {
      const value = await ask<T>(this.question, fields, { signal: under.signal, doing });
      if (this.under !== under) return;
      this.value = value;
      this.refusal = null;
    } catch (error) {
      if (this.under !== under) return;
      if (!(error instanceof Refusal)) {
        if (under.signal.aborted) return;
        throw error;
      }
      this.refusal = error;
    } finally {
      if (this.under === under) {
        this.under = null;
        this.waiting = false;
        this.doing = '';
      }
    }
  }

  cancel() {
    this.under?.abort();
    this.under = null;
    this.waiting = false;
    this.doing = '';
  }
}
