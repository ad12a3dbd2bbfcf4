// SPDX-License-Identifier: Apache-2.0

/**
 * A refusal in words that mean something on the page: what the command line calls --bars is bars
 * here, and where a file may be written over the page asks beside it. What is quoted stays as it is.
 */
export function refusalWords(message: string): string {
  return message
    .replace(/ or give --force$/, '')
    .split(/("[^"]*")/)
    .map((part, i) => (i % 2 === 1 ? part : part.replace(/(^|[\s(])--(?=[a-z])/g, '$1')))
    .join('');
}
