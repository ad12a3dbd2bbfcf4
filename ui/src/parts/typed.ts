// SPDX-License-Identifier: Apache-2.0
// What is typed into a field of a number, made what the server takes.

/**
 * What is typed into a field that shows its unit: a bare number gets that. A decimal comma is taken
 * for a point, but not one that might part thousands.
 */
export function withUnit(text: string, unit: string): string {
  const typed = text
    .trim()
    .replace(/^([-+]?)(?:(0?),(\d+)|(\d+),(\d{1,2}|\d{4,}))(?![\d.,])/, '$1$2$4.$3$5');
  return unit && /^[-+]?(\d+\.?\d*|\.\d+)$/.test(typed) ? `${typed} ${unit}` : typed;
}

/** The unit that a text has behind its number, or how it may be written: "mm" of "420 mm". */
export function unitOf(text: string, write: string): string {
  const behind = /^[-+]?[\d.,/ ]*\d(?:e[-+]?\d+)?\s*([^\d.,/\s].*)$/i.exec(text.trim())?.[1];
  return behind ?? write.split(/, | or /)[0] ?? '';
}

/** What a key of the box is to be known by here, as GET /api/keys has it. */
export interface Written {
  kind: string;
  write: string;
}

/** The unit that a bare number of a key gets where this stands; none but for a quantity. */
export function unitOfKey(key: Written | undefined, standing: string): string {
  return key?.kind === 'quantity' ? unitOf(standing, key.write) : '';
}

/** The value that is typed for a key, a bare number with that unit. */
export function valueOfKey(key: Written | undefined, text: string, unit: string): string {
  return key?.kind === 'quantity' || key?.kind === 'number' ? withUnit(text, unit) : text;
}
