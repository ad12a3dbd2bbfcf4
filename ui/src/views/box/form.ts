// SPDX-License-Identifier: Apache-2.0
import type { Finding } from '../../job/ask';
import { shortened } from '../../parts/numbers';
import type { Edit, Key, Section, Setting, Settings } from './answers';

export interface Entry {
  info: Key;
  setting: Setting;
}

/** One section of the form; a repeated one stands once for each row. */
export interface Group {
  /** As findings name it: "disc", "comb 2"; empty for the keys before the first section. */
  name: string;
  title: string;
  section: Section;
  row: number;
  /** How many rows its section has. */
  rows: number;
  entries: Entry[];
}

/** "star_wheel" as people write it: "Star wheel". */
export function titleOf(name: string): string {
  const words = name.replaceAll('_', ' ');
  return words.charAt(0).toUpperCase() + words.slice(1);
}

export function groupsOf(sections: readonly Section[], settings: readonly Setting[]): Group[] {
  return sections.flatMap((section) => {
    const own = settings.filter((setting) => setting.section === section.name);
    const rows = own.reduce((most, setting) => Math.max(most, setting.row + 1), 0);
    return Array.from({ length: rows }, (_, row) => {
      const name = row === 0 ? section.name : `${section.name} ${row + 1}`;
      const numbered = rows > 1 ? `${section.name} ${row + 1}` : section.name;
      const entries = section.keys.flatMap((info) => {
        const setting = own.find((one) => one.row === row && one.name === info.name);
        return setting ? [{ info, setting }] : [];
      });
      return { name, title: titleOf(numbered) || 'The box', section, row, rows, entries };
    });
  });
}

/** An address within the page for a key or a section. */
export function placeOf(name: string): string {
  return `box-${name.replace(/[^A-Za-z0-9]+/g, '-') || 'top'}`;
}

/** What is said against keys and sections, by their names; a problem is a fault. */
export function saidOf(answer: Pick<Settings, 'findings' | 'problem' | 'settings'>) {
  const said = new Map<string, Finding[]>();
  const add = (finding: Finding) =>
    said.set(finding.where, [...(said.get(finding.where) ?? []), finding]);
  for (const finding of answer.findings) add(finding);
  if (answer.problem)
    add({ level: 'fault', where: answer.problem.where, what: answer.problem.error, do: '' });
  return said;
}

/** How many faults and warnings a section has. */
export function countOf(group: Group, said: ReadonlyMap<string, readonly Finding[]>) {
  const names = [group.name, ...group.entries.map((entry) => entry.setting.key)];
  const all = names.flatMap((name) => said.get(name) ?? []);
  return {
    faults: all.filter((finding) => finding.level === 'fault').length,
    warnings: all.filter((finding) => finding.level === 'warning').length,
  };
}

/** What stands in a field: nothing where the file is silent. */
export function shown(setting: Setting): string {
  return setting.from === 'given' ? (setting.value ?? '') : '';
}

/** What the key is if the field stays empty. */
export function otherwiseWords({ info, setting }: Entry): string {
  if (info.absent === 'required') return 'must be given';
  if (info.absent === 'default')
    return info.otherwise ? `default ${info.otherwise}` : 'default none';
  return setting.otherwise && setting.otherwise !== info.otherwise
    ? `else ${shortened(setting.otherwise)}: ${info.otherwise}`
    : `else ${info.otherwise}`;
}

export function boundsWords(info: Key): string {
  return info.least ? `${info.least} to ${info.greatest}` : '';
}

/** An empty field leaves the key out. */
export function editOf(setting: Setting, text: string): Edit {
  const { section, row, name } = setting;
  return { section, row, name, value: text.trim() === '' ? null : text };
}

/** The edits that add a row like the first one, its name left to be chosen. */
export function likeFirst(group: Group, row: number): Edit[] {
  return group.entries
    .filter(({ info, setting }) => setting.from === 'given' && info.name !== 'name')
    .filter(({ info }) => info.name !== 'plucked')
    .map(({ setting }) => ({ ...editOf(setting, setting.value ?? ''), row }));
}

/** A name for a copy that no file has: "larkspur 2.toml". */
export function copyName(name: string, taken: readonly string[]): string {
  const stem = name.replace(/\.toml$/, '').replace(/[- ]\d+$/, '') || 'box';
  for (let count = name ? 2 : 1; ; ++count) {
    const tried = count === 1 ? `${stem}.toml` : `${stem}-${count}.toml`;
    if (!taken.includes(tried)) return tried;
  }
}

/** The file's name without its ending, as a box is called. */
export function boxNameOf(file: string): string {
  return file.replace(/\.toml$/, '');
}
