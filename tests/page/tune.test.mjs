// SPDX-License-Identifier: Apache-2.0
import assert from 'node:assert/strict';
import { rm } from 'node:fs/promises';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { askOn, shownOn } from './hands.mjs';
import { assertAccessible, openWorkbench, root, screenshot } from './workbench.mjs';

let bench;
let page;
const address = '/tune?box=bramble.toml&tune=hedgerow-morning.mid';
const fields = { box: 'bramble.toml', tune: 'hedgerow-morning.mid' };
const shown = (text) => shownOn(page, text);
const ask = (name, body) => askOn(page, name, body);
const percent = (share) => `${(100 * share).toFixed(1)} %`;

async function goToNote(index) {
  await bench.go(address);
  await page.waitForSelector('[role=application]');
  await page.focus('[role=application]');
  for (let i = 0; i <= index; ++i) await page.keyboard.press('ArrowRight');
}

before(async () => {
  bench = await openWorkbench();
  page = bench.page;
});
after(() => bench.close());

test('a file that is brought is written to the folder, read and arranged', async () => {
  await rm(path.join(bench.folder, 'bramble-waltz.musicxml'));
  await bench.go('/tune?box=bramble.toml');
  const input = await page.waitForSelector('input[type=file]');
  await input.uploadFile(path.join(root, 'examples/tunes/bramble-waltz.musicxml'));
  await page.waitForFunction(() => location.search.includes('tune=bramble-waltz.musicxml'));
  const read = await ask('tune', { tune: 'bramble-waltz.musicxml' });
  await shown(read.title);
  await shown(`${read.bars} bars of`);
  await page.waitForSelector('[role=application]');
});

test('notes are gone through by keyboard, each with its fate and the why', async () => {
  await bench.go(address);
  const { notes } = await ask('arrange', fields);
  const changed = notes.findIndex((note) => note.fate !== 'kept');
  assert.ok(changed >= 0);
  await goToNote(changed);
  await shown(notes[changed].why);
  await assertAccessible(page);
  await screenshot(page, 'tune-note', { fullPage: true });
});

test('a transposition is chosen by keyboard and stands in the address', async () => {
  await bench.go(address);
  const { trials } = await ask('transpositions', fields);
  assert.equal(trials.length, 49);
  await page.waitForSelector('[role=slider] rect.kept');
  await page.focus('[role=slider]');
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Enter');
  await page.waitForFunction(() => /transpose=-?\d+/.test(location.search));
  const semitones = /transpose=(-?\d+)/.exec(page.url())[1];
  const chosen = await ask('arrange', { ...fields, transpose: semitones });
  await shown(percent(chosen.fidelity));
  const trial = trials.find((one) => one.transpose_semitones === Number(semitones));
  assert.ok(Math.abs(trial.fidelity - chosen.fidelity) < 1e-9);
});

test('a note is left out by hand, solved again, and still is after a reload', async () => {
  await bench.go(address);
  const free = await ask('arrange', fields);
  const first = free.notes.findIndex((note) => note.fate === 'kept');
  await goToNote(first);
  await page.keyboard.press('l');
  await shown('left out by hand');
  const shownNow = () => page.$eval('dd.value', (dd) => dd.textContent);
  const before = await shownNow();
  await page.reload();
  await shown('1 locked by hand.');
  await page.waitForSelector('dd.value');
  assert.equal(await shownNow(), before);
  await (await page.waitForSelector('::-p-text(Free all)')).click();
  await shown(percent(free.fidelity));
});

test('a lock that cannot be met is told, and the picture stays', async () => {
  await bench.go(address);
  const { notes, tracks, transpose_semitones: up } = await ask('arrange', fields);
  const pitches = new Set(tracks.map((track) => track.midi));
  const lost = notes.findIndex((note) => !pitches.has(note.midi + up));
  assert.ok(lost >= 0);
  await bench.go(`${address}&transpose=${up}`);
  await page.waitForSelector('[role=application]');
  await page.focus('[role=application]');
  for (let i = 0; i <= lost; ++i) await page.keyboard.press('ArrowRight');
  await (await page.waitForSelector('::-p-xpath(//button[normalize-space()="Keep"])')).click();
  await shown('no arrangement was found that keeps all locks');
  await shown('no tooth for');
  assert.ok(await page.$('[role=application]'));
  await (await page.waitForSelector('::-p-text(Free all)')).click();
  await page.waitForFunction(() => !document.body.innerText.includes('keeps all locks'));
});

test('the disc is heard with a cursor, and what it leaves out alone', async () => {
  // Nothing is left out as it is written here, and then there is nothing to hear of it.
  await bench.go(address);
  await page.waitForSelector('::-p-xpath(//button[contains(., "the disc")])');
  assert.equal(await page.$('::-p-xpath(//button[contains(., "what is left out")])'), null);
  let transpose = 0;
  for (let notes = []; !notes.some((note) => note.fate === 'dropped'); )
    ({ notes } = await ask('arrange', { ...fields, transpose: `${++transpose}` }));
  await bench.go(`${address}&transpose=${transpose}`);
  for (const name of ['the disc', 'what is left out']) {
    const button = await page.waitForSelector(`::-p-xpath(//button[contains(., "${name}")])`);
    await button.click();
    await page.waitForFunction((b) => b.textContent.includes('Pause'), {}, button);
    await page.waitForFunction(
      (b) => Number.parseFloat(b.parentElement.querySelector('.time').textContent) > 0.3,
      {},
      button,
    );
    await button.click();
    await page.waitForFunction((b) => b.textContent.includes('Play'), {}, button);
  }
});

test('it stands narrow and dark', async () => {
  await page.setViewport({ width: 390, height: 844 });
  await bench.go(address);
  await page.waitForSelector('[role=application]');
  const wide = await page.evaluate(() => document.documentElement.scrollWidth);
  assert.ok(wide <= 390, `${wide} px wide`);
  await screenshot(page, 'tune-narrow', { fullPage: true });
  await page.setViewport({ width: 1280, height: 800 });
  await page.emulateMediaFeatures([{ name: 'prefers-color-scheme', value: 'dark' }]);
  await bench.go(address);
  await page.waitForSelector('[role=slider]');
  await assertAccessible(page);
  await screenshot(page, 'tune-dark', { fullPage: true });
});
