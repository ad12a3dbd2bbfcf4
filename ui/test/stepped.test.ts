// SPDX-License-Identifier: Apache-2.0
import { describe, expect, test } from 'vitest';
import { stepped } from '../src/parts/stepped';

describe('stepped', () => {
  test.each([
    ['1.5', 1, '1.6'],
    ['9.9 mm', 1, '10.0 mm'],
    ['14 mm', -1, '13 mm'],
    ['0.10 mm', -1, '0.09 mm'],
    ['0.1 mm', -2, '-0.1 mm'],
    ['-3 cent', 1, '-2 cent'],
    ['44 %', 10, '54 %'],
    ['7850 kg/m3', 1, '7851 kg/m3'],
    ['1340MPa', 1, '1341MPa'],
    ['99', 1, '100'],
    ['1.4906117698', 1, '1.50'],
  ])('%s by %i is %s', (text, steps, expected) => {
    expect(stepped(text, steps)).toBe(expected);
  });

  test.each(['', '1/32 in', 'none', '1 2', '1e3 mm', '1.2.3'])('%s has no last digit', (text) => {
    expect(stepped(text, 1)).toBeNull();
  });

  test('goes back the way it came', () => {
    for (let i = 0; i < 200; ++i) {
      const text = `${(i / 10).toFixed(1)} mm`;
      expect(stepped(stepped(text, 7)!, -7)).toBe(text);
    }
  });
});
