// SPDX-License-Identifier: Apache-2.0
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { askOn, shownOn, standsEverywhere } from './hands.mjs';
import { assertAccessible, openWorkbench, screenshot } from './workbench.mjs';

let bench;
let page;
const address = '/motor?box=bramble.toml&tune=bramble-waltz.musicxml';
const shown = (text) => shownOn(page, text);
const asked = (question, fields) => askOn(page, question, fields);
const factIs = (name, value) =>
  page.waitForFunction(
    (n, v) =>
      [...document.querySelectorAll('dl > div')].some(
        (fact) =>
          fact.querySelector('dt').textContent === n && fact.querySelector('dd').textContent === v,
      ),
    {},
    name,
    value,
  );

async function open(where = address) {
  await page.evaluate(() => localStorage.clear()).catch(() => {});
  await bench.go(where);
  await page.waitForSelector('dl');
}

before(async () => {
  bench = await openWorkbench();
  page = bench.page;
});
after(() => bench.close());

test('it says what the command says, of the tune and of the hardest turn', async () => {
  await open();
  const ofTune = await asked('motor', {
    box: 'bramble.toml',
    tune: 'bramble-waltz.musicxml',
  });
  await factIs('Plays on one wind', `${ofTune.plays}`);
  await (await page.waitForSelector('::-p-text(the hardest turn)')).click();
  const hardest = await asked('motor', { box: 'bramble.toml' });
  await factIs('Plays on one wind', `${hardest.plays}`);
  assert.match(page.url(), /turn=hardest/);
});

test('torque and energy are tables too, and the books are even', async () => {
  await open();
  const told = await asked('motor', {
    box: 'bramble.toml',
    tune: 'bramble-waltz.musicxml',
  });
  await (await page.waitForSelector('::-p-aria([name="Table of Torque at the barrel"])')).click();
  const rows = await page.$$eval(
    '[role=region][aria-label="Torque at the barrel"] tbody tr',
    (all) => all.map((row) => row.innerText.split('\t').map(Number)),
  );
  assert.equal(rows.length, told.torque.length);
  for (const [i, [, winding, running]] of rows.entries()) {
    assert.ok(winding >= running);
    assert.ok(Math.abs((winding + running) / 2 - told.torque[i][1]) < 1e-3 * told.torque.at(-1)[1]);
  }
  const shares = await page.$$eval('table:has(caption) tbody tr', (all) =>
    all.map((row) => Number(row.cells[2].innerText)),
  );
  assert.ok(Math.abs(shares.reduce((sum, share) => sum + share) - 100) < 0.3);
});

test('a turn less of the spring shows at once', async () => {
  await open();
  const before = await asked('motor', {
    box: 'bramble.toml',
    tune: 'bramble-waltz.musicxml',
  });
  await factIs('Plays on one wind', `${before.plays}`);
  await (await page.waitForSelector('::-p-aria([name="Less: Turns used"])')).click();
  await shown('changed, not saved');
  await page.waitForFunction(
    (old) =>
      ![...document.querySelectorAll('dl > div')].some((fact) => fact.innerText.includes(old)),
    {},
    `${(before.run_time_s / 60).toPrecision(3)} min`,
  );
  await (await page.waitForSelector('::-p-text(Undo)')).click();
  await factIs('Runs for', `${(before.run_time_s / 60).toPrecision(3)} min`);
});

test('a motor from stock is put into the box and keeps the wish', async () => {
  await open();
  const wish = await page.waitForSelector('::-p-aria([name="Plays on one wind"][role="textbox"])');
  await wish.type('3');
  await (await page.waitForSelector('::-p-text(Try motors)')).click();
  await shown('springs tried');
  const put = await page.waitForSelector('::-p-text(Put them into the box)');
  await screenshot(page, 'motor-sized', { fullPage: true });
  await assertAccessible(page);
  await put.click();
  await shown('The box has them; it is not saved yet.');
  const { designs } = await asked('size', {
    box: 'bramble.toml',
    tune: 'bramble-waltz.musicxml',
    plays: 3,
  });
  await factIs('Plays on one wind', `${designs[0].plays}`);
});

test('it stands on a narrow page, in the dark and on paper', async () => {
  await standsEverywhere(page, 'motor', async () => {
    await open('/motor?box=larkspur.toml&tune=hedgerow-morning.mid');
    await shown('Energy of one wind');
  });
  await page.emulateMediaType('screen');
});
