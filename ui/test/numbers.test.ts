// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import { cents, figures, fixed, inUnit, noteName, signed } from '../src/parts/numbers';

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

  // MIDI 1.0: 60 is middle C, here C4 as in ISO 16.
  it('name notes', () => {
    expect(noteName(60)).toBe('C4');
    expect(noteName(69)).toBe('A4');
    expect(noteName(66)).toBe('F#4');
  });
});
