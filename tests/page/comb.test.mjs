// SPDX-License-Identifier: Apache-2.0
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { askOn, shownOn, standsEverywhere } from './hands.mjs';
import { assertAccessible, openWorkbench, screenshot } from './workbench.mjs';

let bench;
let page;
const shown = (text) => shownOn(page, text);
const asked = (question, fields) => askOn(page, question, fields);
const field = (label) => page.waitForSelector(`::-p-aria([name="${label}"][role="textbox"])`);
/** The field once it holds this value. */
const filled = async (label, value) => {
  const input = await field(label);
  await page.waitForFunction((element, held) => element.value === held, {}, input, value);
  return input;
};
/** What stands at a field once it is wrong. */
const saidAgainst = async (input) => {
  await page.waitForFunction((element) => element.ariaInvalid === 'true', {}, input);
  return input.evaluate(
    (element) => document.getElementById(element.getAttribute('aria-describedby')).textContent,
  );
};
const factOf = (name) =>
  page.$$eval(
    'dl > div',
    (facts, n) =>
      facts.find((fact) => fact.querySelector('dt').textContent === n)?.querySelector('dd')
        .textContent,
    name,
  );

async function open(where) {
  await page.evaluate(() => localStorage.clear()).catch(() => {});
  await bench.go(where);
  await page.waitForSelector('[role=slider]');
}

before(async () => {
  bench = await openWorkbench();
  page = bench.page;
});
after(() => bench.close());

test('the teeth are gone through by keyboard, each with its numbers', async () => {
  await open('/comb?box=bramble.toml');
  const { teeth } = await asked('comb', { box: 'bramble.toml' });
  await page.focus('[role=slider]');
  await page.keyboard.press('ArrowRight');
  const second = teeth[1];
  await page.waitForFunction(
    (t) => document.querySelector('[role=slider]').ariaValueText === t,
    {},
    `track 2, ${second.note}`,
  );
  await shown(`${second.note}, track 2`);
  await shown(`${(1000 * second.length_m).toFixed(2)} mm`);
  await page.keyboard.press('End');
  await shown(`${teeth.at(-1).note}, track ${teeth.at(-1).track}`);
  await shown('Mode 4');
  assert.match(page.url(), new RegExp(`track=${teeth.at(-1).track}`));
});

test('a click on a tooth chooses it', async () => {
  await open('/comb?box=bramble.toml');
  const at = await page.$$eval('[role=slider] .reach', (teeth) => {
    const box = teeth[9].getBoundingClientRect();
    return { x: box.left + box.width / 2, y: box.top + box.height / 2 };
  });
  await page.mouse.click(at.x, at.y);
  await page.waitForFunction(() =>
    document.querySelector('[role=slider]').ariaValueText?.startsWith('track 10,'),
  );
});

test('a limit that is changed moves the comb, with what it was behind it; undo brings it back', async () => {
  await open('/comb?box=bramble.toml');
  const outline = () => page.$eval('[role=slider] .before', (path) => path.getAttribute('d'));
  assert.equal(await factOf('Longest to shortest'), '42.0 to 17.0 mm');
  assert.equal(await outline(), '');
  const input = await filled('Longest tooth', '42 mm');
  await input.focus();
  for (let i = 0; i < 3; ++i) await page.keyboard.press('ArrowDown');
  await shown('39.0 to 17.0 mm');
  assert.notEqual(await outline(), '');
  assert.equal(await input.evaluate((element) => element.value), '39 mm');
  await shown('changed, not saved');
  await shown('Mode 4');
  await screenshot(page, 'comb-moved', { fullPage: true });
  await (await page.waitForSelector('::-p-text(Undo)')).click();
  await shown('42.0 to 17.0 mm');
  assert.equal(await input.evaluate((element) => element.value), '42 mm');
});

test('two limits stepped by their buttons are two steps to undo', async () => {
  await open('/comb?box=bramble.toml');
  await filled('Longest tooth', '42 mm');
  await page.click('button[aria-label="Less: Longest tooth"]');
  await shown('41.0 to 17.0 mm');
  await page.click('button[aria-label="More: Shortest tooth"]');
  await shown('41.0 to 18.0 mm');
  await (await page.waitForSelector('::-p-text(Undo)')).click();
  await shown('41.0 to 17.0 mm');
  await (await page.waitForSelector('::-p-text(Undo)')).click();
  await shown('42.0 to 17.0 mm');
});

test('a limit that does not go with the others is told at its field', async () => {
  await open('/comb?box=bramble.toml');
  const input = await filled('Longest tooth', '42 mm');
  await input.click({ count: 3 });
  await input.type('15');
  await page.keyboard.press('Enter');
  assert.match(await saidAgainst(input), /shortest/);
});

test('what is no value of a limit is refused beside it, and the box stays', async () => {
  await open('/comb?box=bramble.toml');
  const input = await field('Safety factor');
  await input.click({ count: 3 });
  await input.type('strong');
  await page.keyboard.press('Enter');
  assert.match(await saidAgainst(input), /safety_factor/);
  assert.equal(await page.$eval('main', (main) => main.innerText.includes('not saved')), false);
  await assertAccessible(page);
});

test('a chart is a table too', async () => {
  await open('/comb?box=bramble.toml');
  const { teeth } = await asked('comb', { box: 'bramble.toml' });
  const button = await page.waitForSelector('::-p-aria([name="Table of Safety factor"])');
  await button.click();
  const rows = await page.$$eval('[role=region][aria-label="Safety factor"] tbody tr', (all) =>
    all.map((row) => row.innerText.split('\t').map(Number)),
  );
  assert.equal(rows.length, teeth.length);
  for (const [i, row] of rows.entries())
    assert.ok(Math.abs(row[1] / teeth[i].safety_factor - 1) < 1e-3);
});

test('notes are chosen for tunes and put into the box', async () => {
  await open('/comb?box=bramble.toml');
  for (const box of await page.$$('form .tune input')) {
    const name = await box.evaluate((element) => element.parentElement.innerText.trim());
    if (name !== 'bramble-waltz.musicxml') await box.click();
  }
  await (await page.waitForSelector('::-p-text(Choose notes)')).click();
  await shown('The notes, low to high');
  const plan = await asked('scale', {
    box: 'bramble.toml',
    tunes: ['bramble-waltz.musicxml'],
  });
  assert.equal(await factOf('Covered now'), `${(100 * plan.coverage_now).toPrecision(4)} %`);
  assert.equal(
    await page.$eval('.notes', (notes) => notes.innerText),
    plan.scale.map((tooth) => tooth.note).join(' '),
  );
  await (await page.waitForSelector('::-p-text(Put these notes into the box)')).click();
  await shown('The box has them; it is not saved yet.');
  await screenshot(page, 'comb-notes', { fullPage: true });
  await page.waitForFunction(
    (notes) =>
      [...document.querySelectorAll('[role=region][aria-label="Table of teeth"] tbody tr')]
        .map((row) => row.cells[1].innerText)
        .join(' ') === notes,
    {},
    plan.scale.map((tooth) => tooth.note).join(' '),
  );
});

test('it stands on a narrow page, in the dark and on paper', async () => {
  await standsEverywhere(page, 'comb', async () => {
    await open('/comb?box=larkspur.toml&track=40');
    await shown('Mode 4');
  });
  assert.equal(await page.$eval('.changed', (row) => getComputedStyle(row).display), 'none');
  await page.emulateMediaType('screen');
});
