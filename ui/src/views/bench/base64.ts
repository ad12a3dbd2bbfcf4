// SPDX-License-Identifier: Apache-2.0

/** Bytes as text (RFC 4648, section 4). */
export function toBase64(bytes: Uint8Array): string {
  const at_once = 0x8000;
  let text = '';
  for (let i = 0; i < bytes.length; i += at_once)
    text += String.fromCharCode(...bytes.subarray(i, i + at_once));
  return btoa(text);
}

/** Samples of 32 bits in floating point, least byte first on any machine. */
export function samplesText(samples: Float32Array): string {
  const bytes = new Uint8Array(4 * samples.length);
  const view = new DataView(bytes.buffer);
  samples.forEach((sample, i) => view.setFloat32(4 * i, sample, true));
  return toBase64(bytes);
}
