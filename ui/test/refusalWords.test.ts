// SPDX-License-Identifier: Apache-2.0
import { expect, it } from 'vitest';
import { refusalWords } from '../src/parts/refusalWords';

it('names no options of the command line', () => {
  expect(refusalWords('--bars 9-1 ends before it begins; write --bars 1-9')).toBe(
    'bars 9-1 ends before it begins; write bars 1-9',
  );
  expect(refusalWords('holds the disc of "a --b"; choose another folder or give --force')).toBe(
    'holds the disc of "a --b"; choose another folder',
  );
  expect(refusalWords('a tune -- of a kind; well--tempered')).toBe(
    'a tune -- of a kind; well--tempered',
  );
});
