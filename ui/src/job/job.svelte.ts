// SPDX-License-Identifier: Apache-2.0
import { parseAddress, toPath, type ViewName } from './address';
import { look, readSheet, Refusal, writeFile, type Fields } from './ask';
import { draftOf, dropDraft, keepDraft } from './draft';
import { keepOf } from './kept';
import { keepLocks, locksOf } from './locks';
import { after, courseOf, redone, undone, type Course } from './undo';

interface Desk {
  id: string;
  papers: string[];
  shops: string[];
  tunes: string[];
}

/** In the address where the folder's shop files are not to be used. */
export const noShop = 'none';

/**
 * What is worked on, shared by all views: the box with what was changed in it, the tune, the
 * choices of the address.
 */
class Job {
  view = $state<ViewName>('box');
  /** Of the address: box, tune, shop, bars, transpose, tempo, and what a view adds. */
  choices = $state<Record<string, string>>({});
  papers = $state.raw<string[]>([]);
  shops = $state.raw<string[]>([]);
  tunes = $state.raw<string[]>([]);
  refusal = $state.raw<Refusal | null>(null);

  /** Fates of the tune's notes that are fixed by hand. */
  locks = $state.raw<readonly string[]>([]);

  private course = $state.raw<Course>(courseOf(''));
  private saved = $state('');
  private version = $state('');
  /** The box whose text is at hand; empty while there is none. */
  loaded = $state('');

  box = $derived(this.choices.box ?? '');
  tune = $derived(this.choices.tune ?? '');
  text = $derived(this.course.now);
  changed = $derived(this.loaded !== '' && this.course.now !== this.saved);
  canUndo = $derived(this.course.past.length > 0);
  canRedo = $derived(this.course.ahead.length > 0);

  // Texts, so that another choice of the address does not make them others.
  /** The shop file that everything is made by; empty for a bench machine as the program knows one. */
  shop = $derived(this.choices.shop === noShop ? '' : (this.choices.shop ?? ''));
  private arranging = $derived(
    JSON.stringify(
      Object.fromEntries(
        ['bars', 'transpose', 'tempo', 'melody']
          .filter((name) => this.choices[name])
          .map((name) => [name, this.choices[name]]),
      ),
    ),
  );

  /** Fields of a question about the text of the box as it is on the page. */
  boxOnly = $derived<Fields>({
    box: this.loaded,
    ...(this.changed ? { box_text: this.text } : {}),
  });

  /** The same with the shop that it is made in. */
  boxFields = $derived<Fields>({
    ...this.boxOnly,
    ...(this.shop ? { shop: this.shop } : {}),
  });

  /** The box with the tune and how it is to be arranged: what is played has nothing of the shop. */
  arrangeFields = $derived<Fields>({
    ...this.boxOnly,
    tune: this.tune,
    ...(JSON.parse(this.arranging) as Fields),
    ...(this.locks.length > 0 ? { locks: this.locks } : {}),
  });

  /** The same with the shop that the disc is made in. */
  tuneFields = $derived<Fields>({
    ...this.arrangeFields,
    ...(this.shop ? { shop: this.shop } : {}),
  });

  async start() {
    this.readAddress();
    window.addEventListener('popstate', () => {
      this.readAddress();
      void this.openBox();
    });
    await this.refresh();
    const first = (names: string[]) => names[0] ?? '';
    this.replace({
      box: this.boxPapers.includes(this.box) ? this.box : first(this.boxPapers),
      shop: [noShop, ...this.shops].includes(this.choices.shop ?? '')
        ? this.choices.shop!
        : first(this.shops),
      tune: this.tunes.includes(this.tune) ? this.tune : first(this.tunes),
    });
    this.locks = locksOf(this.box, this.tune);
    await this.openBox();
  }

  get boxPapers(): string[] {
    return this.papers.filter((name) => !this.shops.includes(name));
  }

  async refresh() {
    await this.told(async () => {
      const desk = await look<Desk>('desk');
      keepOf(desk.id);
      this.papers = desk.papers;
      this.shops = desk.shops;
      this.tunes = desk.tunes;
    });
  }

  go(view: ViewName, choices: Record<string, string> = {}) {
    this.view = view;
    this.choices = { ...this.choices, ...choices };
    history.pushState(null, '', this.path(view));
  }

  /** Changes choices without a step back to what was. */
  replace(choices: Record<string, string>) {
    this.choices = { ...this.choices, ...choices };
    history.replaceState(null, '', this.path(this.view));
  }

  path(view: ViewName): string {
    return toPath({ view, choices: this.choices });
  }

  chooseTune(name: string) {
    this.replace({ tune: name, bars: '', transpose: '', tempo: '', melody: '' });
    this.locks = locksOf(this.box, name);
  }

  lock(locks: readonly string[]) {
    this.locks = locks;
    keepLocks(this.box, this.tune, locks);
  }

  async chooseBox(name: string) {
    this.replace({ box: name });
    this.locks = locksOf(name, this.tune);
    await this.openBox();
  }

  async openBox() {
    const name = this.box;
    if (name === this.loaded) return;
    if (!name) {
      this.loaded = '';
      return;
    }
    await this.told(async () => {
      const sheet = await readSheet(name);
      if (name !== this.box) return;
      const draft = draftOf(name);
      this.saved = sheet.text;
      this.version = draft?.version ?? sheet.version;
      this.course = after(courseOf(sheet.text), draft?.text ?? sheet.text);
      this.loaded = name;
    });
  }

  edit(text: string) {
    this.course = after(this.course, text);
    this.keep();
  }

  undo() {
    this.course = undone(this.course);
    this.keep();
  }

  redo() {
    this.course = redone(this.course);
    this.keep();
  }

  /** Throws Refusal with status 412 if another hand changed the file since it was read. */
  async save() {
    const { text, loaded: name } = this;
    const version = await writeFile(name, text, this.version);
    if (name === this.loaded) {
      this.version = version;
      this.saved = text;
      this.keep();
    } else if (draftOf(name)?.text === text) {
      dropDraft(name);
    }
  }

  /** Takes the file as it is now, be it changed, as what the next save writes over. */
  async acceptOther(): Promise<string> {
    const name = this.loaded;
    const sheet = await readSheet(name);
    if (name === this.loaded) {
      this.saved = sheet.text;
      this.version = sheet.version;
      this.keep();
    }
    return sheet.text;
  }

  private keep() {
    if (this.changed) keepDraft(this.loaded, { version: this.version, text: this.text });
    else dropDraft(this.loaded);
  }

  private readAddress() {
    const { view, choices } = parseAddress(location.pathname, location.search);
    this.view = view;
    this.choices = choices;
    this.locks = locksOf(choices.box ?? '', choices.tune ?? '');
  }

  private async told(work: () => Promise<void>) {
    try {
      await work();
      this.refusal = null;
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      this.refusal = error;
    }
  }
}

export const job = new Job();
