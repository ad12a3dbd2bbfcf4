// SPDX-License-Identifier: Apache-2.0

/** Pixels across that a picture kept for turning may have: 36 MB of them. */
export const widest = 3000;

/**
 * What does not change while something turns, drawn once for a size and then only turned as a
 * picture: thousands of outlines take longer than a frame, one picture does not.
 */
export class Layer {
  private picture: HTMLCanvasElement | null = null;
  private of: unknown[] = [];

  /**
   * The picture of a square `across` pixels wide, drawn anew by `draw` if anything in `of` is not
   * what it was; null where it would be too large.
   */
  get(
    across: number,
    of: unknown[],
    draw: (c: CanvasRenderingContext2D) => void,
  ): HTMLCanvasElement | null {
    const size = Math.ceil(across);
    if (size > widest || size < 1) return null;
    const now = [size, ...of];
    if (this.picture && now.every((one, i) => one === this.of[i])) return this.picture;
    const picture = this.picture ?? document.createElement('canvas');
    picture.width = picture.height = size;
    const c = picture.getContext('2d');
    if (!c) return null;
    draw(c);
    this.picture = picture;
    this.of = now;
    return picture;
  }
}
