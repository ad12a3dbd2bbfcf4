// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import type { Key, Section, Setting } from '../src/views/box/answers';
import {
  boundsWords,
  copyName,
  countOf,
  editOf,
  groupsOf,
  likeFirst,
  otherwiseWords,
  placeOf,
  saidOf,
  shown,
  titleOf,
} from '../src/views/box/form';

const key = (name: string, more: Partial<Key> = {}): Key => ({
  name,
  kind: 'quantity',
  write: 'mm',
  least: '1 mm',
  greatest: '9 mm',
  absent: 'default',
  otherwise: '2 mm',
  choices: [],
  help: 'Of it.',
  ...more,
});

const setting = (
  section: string,
  row: number,
  name: string,
  more: Partial<Setting> = {},
): Setting => ({
  key: `${row ? `${section} ${row + 1}` : section}.${name}`,
  section,
  row,
  name,
  value: '2 mm',
  from: 'default',
  otherwise: '2 mm',
  line: null,
  ...more,
});

const section = (name: string, keys: Key[], most = 1): Section => ({
  name,
  help: '',
  repeated: most > 1,
  greatest_rows: most,
  keys,
});

const sections = [
  section('disc', [key('diameter'), key('thickness')]),
  section('comb', [key('name', { kind: 'text' }), key('level')], 2),
];
const settings = [
  setting('disc', 0, 'thickness'),
  setting('disc', 0, 'diameter', { from: 'given', value: '8 mm' }),
  setting('comb', 0, 'name', { from: 'given', value: 'front' }),
  setting('comb', 0, 'level', { from: 'given', value: '1 mm' }),
  setting('comb', 1, 'name'),
  setting('comb', 1, 'level'),
];

describe('the form of a box', () => {
  it('has a group for each section and row, keys in the order of the table', () => {
    const groups = groupsOf(sections, settings);
    expect(groups.map((g) => [g.name, g.title])).toEqual([
      ['disc', 'Disc'],
      ['comb', 'Comb 1'],
      ['comb 2', 'Comb 2'],
    ]);
    expect(groups[0]!.entries.map((e) => e.info.name)).toEqual(['diameter', 'thickness']);
    expect(titleOf('star_wheel')).toBe('Star wheel');
  });

  it('counts what is said against a section by its keys', () => {
    const said = saidOf({
      settings,
      findings: [
        { level: 'warning', where: 'disc.thickness', what: 'thin', do: '' },
        { level: 'warning', where: 'comb 2.level', what: 'high', do: '' },
        { level: 'note', where: 'disc.diameter', what: 'so', do: '' },
      ],
      problem: { error: 'too small', place: null, where: 'disc.diameter' },
    });
    const groups = groupsOf(sections, settings);
    expect(groups.map((g) => countOf(g, said))).toEqual([
      { faults: 1, warnings: 1 },
      { faults: 0, warnings: 0 },
      { faults: 0, warnings: 1 },
    ]);
  });

  it('shows only what the file gives, and says what else it is', () => {
    const [first, second] = groupsOf(sections, settings)[0]!.entries;
    expect(shown(first!.setting)).toBe('8 mm');
    expect(shown(second!.setting)).toBe('');
    expect(otherwiseWords(second!)).toBe('default 2 mm');
    const derived = key('count', { absent: 'derived', otherwise: 'one for each note' });
    expect(
      otherwiseWords({ info: derived, setting: setting('t', 0, 'count', { otherwise: '30' }) }),
    ).toBe('else 30: one for each note');
    expect(
      otherwiseWords({ info: derived, setting: setting('t', 0, 'count', { otherwise: null }) }),
    ).toBe('else one for each note');
    expect(boundsWords(first!.info)).toBe('1 mm to 9 mm');
    expect(boundsWords(key('x', { least: '', greatest: '' }))).toBe('');
  });

  it('takes a key out where its field is empty', () => {
    expect(editOf(settings[1]!, ' ').value).toBeNull();
    expect(editOf(settings[1]!, '7 mm')).toEqual({
      section: 'disc',
      row: 0,
      name: 'diameter',
      value: '7 mm',
    });
  });

  it('makes a second comb like the first but for its name', () => {
    expect(likeFirst(groupsOf(sections, settings)[1]!, 1)).toEqual([
      { section: 'comb', row: 1, name: 'level', value: '1 mm' },
    ]);
  });

  it('finds places and names that are free', () => {
    expect(placeOf('comb 2.level')).toBe('box-comb-2-level');
    expect(placeOf('')).toBe('box-top');
    expect(copyName('larkspur.toml', ['larkspur.toml', 'larkspur-2.toml'])).toBe('larkspur-3.toml');
    expect(copyName('larkspur-2.toml', ['larkspur-2.toml'])).toBe('larkspur-3.toml');
    expect(copyName('', [])).toBe('box.toml');
  });
});
