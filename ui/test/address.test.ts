// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import { parseAddress, toPath } from '../src/job/address';

describe('addresses', () => {
  it('come back as they were', () => {
    const address = {
      view: 'disc' as const,
      choices: { box: 'my box.toml', tune: 'a&b.mid', bars: '1-8' },
    };
    const path = toPath(address);
    const url = new URL(path, 'http://127.0.0.1');
    expect(parseAddress(url.pathname, url.search)).toEqual(address);
  });

  it('leave out what is empty', () => {
    expect(toPath({ view: 'box', choices: { tune: '' } })).toBe('/box');
  });

  it('open the box where no view is named', () => {
    expect(parseAddress('/', '').view).toBe('box');
    expect(parseAddress('/nowhere', '').view).toBe('box');
  });
});
