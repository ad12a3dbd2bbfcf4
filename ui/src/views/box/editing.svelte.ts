// SPDX-License-Identifier: Apache-2.0
import { ask, Refusal } from '../../job/ask';
import { job } from '../../job/job.svelte';
import type { Edit } from './answers';

const nameOf = (edit: Edit) => `${edit.section}/${edit.row}/${edit.name}`;

/**
 * What is typed into the fields goes to the server, one question after the other so that none is
 * lost, and comes back as the new text of the box. Typing on in one field is one step to undo.
 */
class Editing {
  /** Why a field was not taken, in the server's words, by the name of its key in the file. */
  refused = $state.raw<ReadonlyMap<string, string>>(new Map());
  /** Counts what was done to the text behind the fields' back. */
  turned = $state(0);

  private waiting = new Map<string, Edit>();
  private busy = false;
  private lastField = '';
  // The text before that field was begun, and after what was typed last.
  private base = '';
  private after = '';
  private free: (() => void)[] = [];

  refusalOf(edit: Edit): string {
    return this.refused.get(nameOf(edit)) ?? '';
  }

  take(edit: Edit) {
    this.waiting.set(nameOf(edit), edit);
    void this.work();
  }

  /** The next edit is a step of its own. */
  pause() {
    this.lastField = '';
  }

  /** Several edits as one step. Throws Refusal. */
  async together(edits: readonly Edit[]) {
    const text = await this.edited(job.text, edits);
    this.lastField = '';
    job.edit(text);
    ++this.turned;
  }

  drop(edit: Edit) {
    if (!this.refused.has(nameOf(edit))) return;
    const left = new Map(this.refused);
    left.delete(nameOf(edit));
    this.refused = left;
  }

  undo() {
    this.lastField = '';
    // What was typed and not taken goes first.
    if (this.refused.size > 0) this.refused = new Map();
    else job.undo();
    ++this.turned;
  }

  redo() {
    this.lastField = '';
    this.refused = new Map();
    job.redo();
    ++this.turned;
  }

  /** Another box, or another hand's text. */
  begin() {
    this.lastField = '';
    this.waiting.clear();
    this.refused = new Map();
    ++this.turned;
  }

  /** Once everything typed so far is in the text or refused. */
  settled(): Promise<void> {
    if (!this.busy) return Promise.resolve();
    return new Promise((done) => this.free.push(done));
  }

  private async edited(box_text: string, edits: readonly Edit[]): Promise<string> {
    const fields = { box: job.loaded, box_text, edits };
    return (await ask<{ box_text: string }>('edit', fields)).box_text;
  }

  private async work() {
    if (this.busy) return;
    this.busy = true;
    try {
      for (;;) {
        const next = this.waiting.entries().next();
        if (next.done) return;
        const [name, edit] = next.value;
        this.waiting.delete(name);
        await this.one(name, edit);
      }
    } finally {
      this.busy = false;
      for (const done of this.free.splice(0)) done();
    }
  }

  private async one(name: string, edit: Edit) {
    const before = job.text;
    const typingOn = this.lastField === name && this.after === before;
    // What is typed on stands in place of what was typed: nothing half typed leaves a trace.
    const base = typingOn ? this.base : before;
    try {
      const text = await this.edited(base, [edit]);
      // The text went another way meanwhile, by undo or another box.
      if (job.text !== before) return;
      if (typingOn && base !== before) job.undo();
      if (text !== job.text) job.edit(text);
      this.lastField = name;
      this.base = base;
      this.after = text;
      this.drop(edit);
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      this.refused = new Map(this.refused).set(name, error.message);
      // What stood there before it was begun stands again: a field cleared to type anew is not
      // meant to be without a value.
      if (typingOn && base !== before && job.text === before) {
        job.undo();
        this.after = base;
      }
    }
  }
}

export const editing = new Editing();
