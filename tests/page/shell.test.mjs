// SPDX-License-Identifier: Apache-2.0
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { assertAccessible, openWorkbench, screenshot } from './workbench.mjs';

// What comes last in each view.
const last = {
  box: ['figure svg', '.form input', '::-p-text(Nothing to say against the box)'],
  tune: ['[role=slider] rect.kept', '::-p-text(chosen by itself)'],
  disc: ['canvas', '.cautions li'],
  comb: ['.layout table', '::-p-text(Mode 4)'],
  bench: ['.board .which', '::-p-text(teeth in tune)'],
  motor: ['.layout table'],
  records: ['.acts button:enabled', '::-p-text(Nothing has been filed yet)'],
};
const views = Object.keys(last);
let bench;

before(async () => {
  bench = await openWorkbench();
});
after(() => bench.close());

const heading = () => bench.page.$eval('main h1', (h1) => h1.textContent);

test('each view has an address and breaks no rule of WCAG 2.2 AA, light and dark', async () => {
  for (const light of ['light', 'dark']) {
    await bench.page.emulateMediaFeatures([{ name: 'prefers-color-scheme', value: light }]);
    for (const view of views) {
      await bench.go(`/${view}?box=larkspur.toml&tune=hedgerow-morning.mid`);
      assert.equal((await heading()).toLowerCase(), view);
      for (const part of last[view]) await bench.page.waitForSelector(part);
      await assertAccessible(bench.page);
      await screenshot(bench.page, `${view}-${light}`);
    }
  }
});

test('the views are reached by keyboard, and back again', async () => {
  await bench.go('/box?box=bramble.toml');
  await bench.page.focus('nav a[href^="/comb"]');
  await bench.page.keyboard.press('Enter');
  await bench.page.waitForFunction(() => document.querySelector('main h1')?.textContent === 'Comb');
  assert.match(bench.page.url(), /\/comb\?box=bramble\.toml/);
  await bench.page.goBack();
  await bench.page.waitForFunction(() => document.querySelector('main h1')?.textContent === 'Box');
});

test('a choice of light stays over a reload', async () => {
  await bench.page.emulateMediaFeatures([{ name: 'prefers-color-scheme', value: 'light' }]);
  await bench.go('/box');
  const light = () => bench.page.$eval('html', (html) => html.dataset.light);
  assert.equal(await light(), 'light');
  await bench.page.click('header button');
  assert.equal(await light(), 'dark');
  await bench.page.reload();
  await bench.page.waitForSelector('main h1');
  assert.equal(await light(), 'dark');
});
