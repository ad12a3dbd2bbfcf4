// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import { unitOf, unitOfKey, valueOfKey, withUnit } from '../src/parts/typed';

describe('typed numbers', () => {
  it('get the unit of their field where they are typed bare', () => {
    expect(withUnit(' 366.2 ', 'Hz')).toBe('366.2 Hz');
    expect(withUnit('366,2', 'Hz')).toBe('366.2 Hz');
    expect(withUnit('1/32 in', 'mm')).toBe('1/32 in');
    expect(withUnit('0,350', 'mm')).toBe('0.350 mm');
    expect(withUnit('20,5 C', 'C')).toBe('20.5 C');
    expect(withUnit('12,000', 'mm')).toBe('12,000');
    expect(withUnit('1,234,5', 'mm')).toBe('1,234,5');
    expect(withUnit('', 'mm')).toBe('');
    expect(withUnit('12', '')).toBe('12');
  });

  it('know the unit that a field has', () => {
    expect(unitOf('420 mm', 'mm, cm, m, um or in')).toBe('mm');
    expect(unitOf('16 1/2 in', 'mm, cm, m, um or in')).toBe('in');
    expect(unitOf('-0.5 %', '%')).toBe('%');
    expect(unitOf('8e-4 m', 'mm, cm, m, um or in')).toBe('m');
    expect(unitOf('', 'mm, cm, m, um or in')).toBe('mm');
    expect(unitOf('', 'N m')).toBe('N m');
    expect(unitOf('1.5', '')).toBe('');
  });

  it('are taken as the key is written', () => {
    const length = { kind: 'quantity', write: 'mm, cm, m, um or in' };
    expect(valueOfKey(length, '7,5', unitOfKey(length, '7 1/4 in'))).toBe('7.5 in');
    const share = { kind: 'number', write: 'number' };
    expect(valueOfKey(share, '0,2', unitOfKey(share, '0.3'))).toBe('0.2');
    const list = { kind: 'integers', write: 'list of whole numbers' };
    expect(valueOfKey(list, '1,2', unitOfKey(list, '3'))).toBe('1,2');
  });
});
