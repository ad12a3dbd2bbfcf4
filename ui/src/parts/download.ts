// SPDX-License-Identifier: Apache-2.0

/** Hands bytes to the browser as a file of that name. */
export function download(bytes: Blob, name: string) {
  const address = URL.createObjectURL(bytes);
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  // The browser has taken it up by then.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}
