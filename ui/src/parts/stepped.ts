// SPDX-License-Identifier: Apache-2.0

/**
 * The text with the last digit of its number one step further or back: "1.5" is "1.6", "9.9 mm" is
 * "10.0 mm". A number with a long tail is first cut to hundredths. Nothing for a text that is not a number, with or without a unit.
 */
export function stepped(text: string, steps: number): string | null {
  const found = /^\s*(-?)(\d{1,12})(?:\.(\d{1,20}))?(?![\d.,/])([^\d]*[a-zA-Z%]\d?)?\s*$/.exec(
    text,
  );
  if (!found) return null;
  const [, sign = '', whole = '0', all = '', unit = ''] = found;
  const part = all.length > 6 ? all.slice(0, 2) : all;
  const size = Number(whole + part) * (sign ? -1 : 1) + steps;
  const digits = `${Math.abs(size)}`.padStart(part.length + 1, '0');
  const cut = digits.length - part.length;
  const number = part ? `${digits.slice(0, cut)}.${digits.slice(cut)}` : digits;
  return `${size < 0 ? '-' : ''}${number}${unit}`;
}
