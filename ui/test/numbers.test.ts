// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import {
  cents,
  figures,
  fixed,
  inUnit,
  noteName,
  signed,
  unitOf,
  withUnit,
} from '../src/parts/numbers';

describe('numbers for people', () => {
  it('have so many significant figures', () => {
    expect(figures(0.0123456)).toBe('0.0123');
    expect(figures(0.99961)).toBe('1.00');
    expect(figures(440.4)).toBe('440');
    expect(figures(12345.6)).toBe('12346');
    expect(figures(-2.5)).toBe('−2.50');
    expect(figures(Number.NaN)).toBe('–');
  });

  it('bear their unit', () => {
    expect(inUnit(0.0008, 'mm')).toBe('0.800 mm');
    expect(inUnit(1.34e9, 'MPa', 4)).toBe('1340 MPa');
    expect(inUnit(0.953, '%')).toBe('95.3 %');
    expect(inUnit(null, 'mm')).toBe('–');
  });

  it('have a sign where they are cents', () => {
    expect(cents(3.21)).toBe('+3.2 cent');
    expect(cents(-0.04)).toBe('0.0 cent');
    expect(cents(-12)).toBe('−12.0 cent');
  });

  it('align in a column', () => {
    expect(signed(3.14159, 2)).toBe('+3.14');
    expect(signed(-60.04, 1)).toBe('−60.0');
    expect(signed(-0.001, 2)).toBe('0.00');
    expect(fixed(3.14159, 2)).toBe('3.14');
    expect(fixed(-3.14159, 2)).toBe('−3.14');
    expect(fixed(null, 2)).toBe('');
  });

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

  // MIDI 1.0: 60 is middle C, here C4 as in ISO 16.
  it('name notes', () => {
    expect(noteName(60)).toBe('C4');
    expect(noteName(69)).toBe('A4');
    expect(noteName(66)).toBe('F#4');
  });
});
