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
  private after = '';
  private stepped = false;

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
    const text = await this.edited(edits);
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

  private async edited(edits: readonly Edit[]): Promise<string> {
    const fields = { box: job.loaded, box_text: job.text, edits };
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
    }
  }

  private async one(name: string, edit: Edit) {
    const before = job.text;
    try {
      const text = await this.edited([edit]);
      // The text went another way meanwhile, by undo or another box.
      if (job.text !== before) return;
      if (this.lastField === name && this.after === before && this.stepped) job.undo();
      this.stepped = text !== job.text;
      if (this.stepped) job.edit(text);
      this.lastField = name;
      this.after = text;
      this.drop(edit);
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      this.refused = new Map(this.refused).set(name, error.message);
    }
  }
}

export const editing = new Editing();
