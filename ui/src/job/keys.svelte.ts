// SPDX-License-Identifier: Apache-2.0
import { Answer } from './answer.svelte';
import { ask, look, Refusal } from './ask';
import { job } from './job.svelte';

/** One key as the text of the box has it, or would have it without its own. */
export interface Setting {
  section: string;
  row: number;
  name: string;
  value: string | null;
  from: string | null;
  /** As findings name it: "comb 2.longest_tooth". */
  key: string;
}

/** What is to be known of a key. */
export interface KeyWords {
  name: string;
  kind: string;
  write: string;
  least: string;
  greatest: string;
  choices: string[];
  help: string;
}

export interface Edit {
  section: string;
  row: number;
  name: string;
  /** None takes the key out of the text. */
  value: string | null;
}

/** The keys of the box that is worked on: what they are, what they mean, and how they are changed. */
class Keys {
  private words = $state.raw<Record<string, KeyWords>>({});
  private readonly settings = new Answer<{
    settings: Setting[];
    problem: { where: string; error: string } | null;
  }>('settings');
  private last: Promise<unknown> = Promise.resolve();
  private started = false;
  // What the last change of a row of changes made, which are one step to undo, and which row.
  private going = '';
  private row = '';

  /** To be called in an effect: reads again whenever the box is another. */
  follow() {
    if (!job.loaded) return;
    if (!this.started) {
      this.started = true;
      void this.learn().catch(() => (this.started = false));
    }
    void this.settings.ask(job.boxOnly);
  }

  settingOf(section: string, row: number, name: string): Setting | undefined {
    return this.settings.value?.settings.find(
      (one) => one.section === section && one.row === row && one.name === name,
    );
  }

  /** What keeps the box from being right, where that is this key; else nothing. */
  against(section: string, row: number, name: string): string {
    const problem = this.settings.value?.problem;
    return problem && problem.where === this.settingOf(section, row, name)?.key
      ? problem.error
      : '';
  }

  wordsOf(section: string, name: string): KeyWords | undefined {
    return this.words[`${section}.${name}`];
  }

  /**
   * Changes the text of the box, one change after the other. Gives what is wrong with it, in which
   * case nothing is changed. Changes of one `row` after the other are one step to undo.
   */
  change(how: { edits: Edit[] } | { lines: string }, row = ''): Promise<Refusal | null> {
    const made = this.last.then(async () => {
      const before = job.text;
      try {
        const answer = await ask<{ box_text: string }>('edit', { ...job.boxOnly, ...how });
        // It went another way meanwhile, by undo or another box.
        if (job.text !== before) return null;
        if (row && row === this.row && this.going === before) job.undo();
        const from = job.text;
        job.edit(answer.box_text);
        this.going = row && job.text !== from ? job.text : '';
        this.row = row;
        return null;
      } catch (error) {
        if (error instanceof Refusal) return error;
        throw error;
      }
    });
    this.last = made.catch(() => null);
    return made;
  }

  /** The next change is a step of its own. */
  pause() {
    this.going = '';
  }

  private async learn() {
    const { sections } = await look<{ sections: { name: string; keys: KeyWords[] }[] }>('keys');
    const words: Record<string, KeyWords> = {};
    for (const section of sections)
      for (const key of section.keys) words[`${section.name}.${key.name}`] = key;
    this.words = words;
  }
}

export const keys = new Keys();
