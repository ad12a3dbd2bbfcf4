// SPDX-License-Identifier: Apache-2.0
import { ask, Refusal, type Fields } from '../../job/ask';
import { told, type Told } from './words';

/**
 * A form that is sent as one question: what it says if it is refused, and at which field. It is
 * sent once at a time, so that nothing is filed twice by two strokes of a key.
 */
export class Form<T> {
  sending = $state(false);
  told = $state.raw<Told>({ field: '', text: '' });

  constructor(
    private readonly question: string,
    private readonly labels: Readonly<Record<string, string>>,
  ) {}

  /** What is wrong with a field; the empty key asks for what is of none. */
  wrong(field: string): string {
    return this.told.field === field ? this.told.text : '';
  }

  /** The answer; null if it is refused or still on its way. */
  async send(fields: Fields): Promise<T | null> {
    if (this.sending) return null;
    this.sending = true;
    this.told = { field: '', text: '' };
    try {
      return await ask<T>(this.question, fields);
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      const place = error.place ? `${error.place.file}: ` : '';
      const said = told(error.message, this.labels);
      this.told = said.field ? said : { ...said, text: place + said.text };
      return null;
    } finally {
      this.sending = false;
    }
  }
}
