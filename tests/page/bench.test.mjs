// SPDX-License-Identifier: Apache-2.0
// The bench: a tooth tuned hands-free by what a microphone hears, a reload and a killed server in
// the middle, corrections, recordings, the certificate. The microphone is a file of plucks whose
// pitches are those that the program's own advice expects.
import assert from 'node:assert/strict';
import { execFile } from 'node:child_process';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { promisify } from 'node:util';
import { pluckSound } from './plucks.mjs';
import {
  assertAccessible,
  exampleFolder,
  openBrowser,
  openPage,
  program,
  root,
  screenshot,
  serve,
} from './workbench.mjs';

const run = promisify(execFile);
const track = 7;

let folder;
let scratch;
let server;
let port;
let browser;
let page;

/** The pitches of a tooth that is tuned as told and does what is expected. */
async function course() {
  const readings = [{ frequency_hz: 425, stderr_hz: 0.01 }];
  for (;;) {
    const file = path.join(scratch, 'readings.json');
    await writeFile(file, JSON.stringify(readings));
    const words = ['clip', 'bramble.toml', `--track=${track}`, '--readings', file, '--json'];
    const { stdout } = await run(program, words, { cwd: folder });
    const { advice, target_hz } = JSON.parse(stdout);
    if (advice.do === 'stop') return readings.map((one) => one.frequency_hz);
    assert.equal(advice.do, 'clip');
    readings.push({
      frequency_hz: target_hz * 2 ** (advice.expect_cents / 1200),
      stderr_hz: 0.01,
      clipped_length_m: advice.length_m,
    });
  }
}

const sql = async (query) =>
  JSON.parse(
    (await run('sqlite3', ['-json', '-cmd', '.timeout 10000', path.join(folder, 'records.db'), query])).stdout || '[]',
  );
const text = (selector) =>
  page.$eval(selector, (node) => node.textContent.replace(/\s+/g, ' ').trim());
const waitText = (selector, words, timeout = 30000) =>
  page
    .waitForFunction(
      (where, what) => document.querySelector(where)?.textContent.includes(what),
      { timeout },
      selector,
      words,
    )
    .catch(async (error) => {
      throw new Error(`${error.message}: ${words} is not in: ${await text('main')}`);
    });
/** The button of these words; the page may be drawing it anew. */
async function press(words, within = 'main') {
  const found = await page.waitForFunction(
    (what, where) => {
      const button = [...document.querySelectorAll(`${where} button`)].find((one) =>
        one.textContent.replace(/\s+/g, ' ').trim().startsWith(what),
      );
      button?.click();
      return button !== undefined;
    },
    { timeout: 10000 },
    words,
    within,
  );
  await found.dispose();
}
const go = async (where) => {
  await page.goto(`http://127.0.0.1:${port}${where}`);
  await page.waitForSelector('main h1');
};

before(async () => {
  scratch = await mkdtemp(path.join(tmpdir(), 'combwright-bench-'));
  folder = await exampleFolder();
  server = await serve(folder);
  port = new URL(server.address).port;
});
after(async () => {
  await browser?.close();
  await server?.stop();
  await rm(folder, { recursive: true });
  await rm(scratch, { recursive: true });
});

test('a tooth is tuned by ear and pedal, through a reload and a killed server', async () => {
  const pitches = await course();
  assert.ok(pitches.length >= 3, `${pitches}`);
  const file = path.join(scratch, 'plucks.wav');
  await writeFile(file, pluckSound(pitches, { first_s: 3, apart_s: 9 }));
  browser = await openBrowser({
    args: [
      '--use-fake-device-for-media-stream',
      '--use-fake-ui-for-media-stream',
      `--use-file-for-fake-audio-capture=${file}%noloop`,
    ],
  });
  page = await openPage(browser);
  await go(`/bench?box=bramble.toml&track=${track}`);
  await waitText('.board', 'Listen, then pluck');
  await assertAccessible(page);
  await press('Listen');
  await waitText('.state', 'listening');
  await waitText('.board', 'hearing …');
  await waitText('.do', 'Clip 0.');
  assert.match(await text('.board'), /A4 track 7/);
  assert.match(await text('.off'), /^−60\.0 cent 425\.00 Hz −15\.00 Hz off 440\.00 Hz/);
  await waitText('.heard', 'Reading 1 is filed');
  assert.equal((await sql('SELECT frequency_hz FROM readings')).length, 1);
  const told = /Clip ([\d.]+ mm)/.exec(await text('.do'))[1];
  const tall = await page.$$eval('.huge', (all) =>
    all.map((node) => parseFloat(getComputedStyle(node).fontSize) / innerHeight),
  );
  for (const share of tall) assert.ok(share >= 0.11, `${tall}`);
  await screenshot(page, 'bench-advice');
  await screenshot(page, 'bench-whole', { fullPage: true });
  await assertAccessible(page);

  // The pedal; the next pluck takes the cut along.
  await page.keyboard.press('PageDown');
  await waitText('.do', 'Pluck again');
  await waitText('.do', `clipped ${told}`);
  await screenshot(page, 'bench-told');
  await waitText('.heard', 'Reading 2 is filed');
  const [work] = await sql('SELECT reading, kind, length_m FROM work');
  assert.equal(work.kind, 'clip');
  assert.equal(`${(1000 * work.length_m).toFixed(2)} mm`, told);

  // Told, and then the page is loaded anew and the server is killed: nothing is forgotten.
  await waitText('.do', 'Clip 0.');
  const before = await text('.off');
  await page.keyboard.press('Space');
  await waitText('.do', 'Pluck again');
  const next = await text('.do');
  await server.stop('SIGKILL');
  server = await serve(folder, '--port', port);
  await page.reload();
  await waitText('.do', 'Pluck again');
  assert.equal((await text('.do')).replace(/\s+/g, ' '), next);
  assert.equal(await text('.off'), before);
  await page.waitForSelector('table.dense');
  assert.equal((await page.$$('table.dense tbody tr')).length, 2);
});

test('the server is killed while it listens: the page goes on by itself', async () => {
  await press('Listen');
  await waitText('.state', 'listening');
  await waitText('.heard', 'Reading 3 is filed', 40000);
  await server.stop('SIGKILL');
  await waitText('main', 'does not answer');
  server = await serve(folder, '--port', port);
  await page.waitForFunction(() => !document.querySelector('main [role="alert"] p'), {
    timeout: 20000,
  });
  await waitText('.heard', 'is filed', 40000);
  const rows = await sql("SELECT id FROM readings WHERE struck = ''");
  assert.ok(rows.length >= 3);
  await press('Listening: stop');
  await waitText('.state', 'not listening');
});

test('recordings, another tooth, a correction, the keys', async () => {
  await go('/bench?box=bramble.toml&track=5');
  await waitText('.board', 'Listen, then pluck');
  const input = await page.$('input[type="file"]');
  await input.uploadFile(path.join(root, 'examples/recordings/comb.flac'));
  await waitText('main', 'plucks; here it is heard for one tooth');
  await input.uploadFile(path.join(root, 'examples/recordings/tooth.flac'));
  await waitText('.heard', 'is not this tooth and was not filed');
  await waitText('.heard', 'track 7 (A4)');
  await page.focus('.board');
  await page.keyboard.press('ArrowRight');
  await waitText('.which', 'track 6');
  assert.match(page.url(), /track=6/);
  await page.keyboard.press('ArrowRight');
  await waitText('.which', 'track 7');
  await page.waitForSelector('.do');
  const count = (await sql('SELECT id FROM readings')).length;
  await input.uploadFile(path.join(root, 'examples/recordings/tooth.flac'));
  await waitText('.heard', `Reading ${count + 1} is filed`);
  await waitText('main', 'Fault');
  await assertAccessible(page);
  await screenshot(page, 'bench-fault', { fullPage: true });
  await page.focus('.board');
  await page.keyboard.press('Delete');
  await page.waitForSelector('dialog[open]');
  await assertAccessible(page);
  await press('Strike it', 'dialog');
  await waitText('.heard', `reading ${count + 1} is struck`);
  await page.waitForFunction(() => !document.querySelector('dialog'));
  const [row] = await sql(`SELECT struck, work_struck FROM readings WHERE id = ${count + 1}`);
  assert.deepEqual(row, { struck: 'another tooth', work_struck: 1 });

  await press('Correct');
  await page.waitForSelector('dialog[open]');
  await assertAccessible(page);
  await screenshot(page, 'bench-correct');
  const clipped = await page.$('dialog input');
  await clipped.click({ count: 3 });
  await clipped.type('abc');
  await press('This was done', 'dialog');
  await waitText('dialog', '"abc" is no length');
  await press('Nothing was done', 'dialog');
  await waitText('.heard', 'corrected as reading');
});

test('the comb and its certificate', async () => {
  const said = await text('#progress-title');
  assert.match(said, /^\d of 30 teeth in tune$/);
  const client = await page.createCDPSession();
  await client.send('Browser.setDownloadBehavior', { behavior: 'allow', downloadPath: scratch });
  await press('Certificate');
  const paper = path.join(scratch, 'bramble-comb-1-certificate.pdf');
  for (let i = 0; i < 100; i++) {
    const bytes = await readFile(paper).catch(() => Buffer.alloc(0));
    if (bytes.subarray(0, 5).toString() === '%PDF-') return;
    await new Promise((done) => setTimeout(done, 100));
  }
  assert.fail('no certificate came');
});

test('dark, narrow, and with pairs', async () => {
  for (const [name, options] of [
    ['bench-dark', { light: 'dark' }],
    ['bench-narrow', { width: 390, height: 844 }],
    ['bench-narrow-dark', { width: 390, height: 844, light: 'dark' }],
  ]) {
    const other = await openPage(browser, options);
    await other.goto(`http://127.0.0.1:${port}/bench?box=bramble.toml&track=${track}`);
    await other.waitForSelector('.do');
    await other.waitForSelector('table.dense');
    await assertAccessible(other);
    const wide = await other.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    assert.ok(wide <= 0, `${name} is ${wide} px too wide`);
    await screenshot(other, name, { fullPage: true });
    assert.deepEqual(other.mistakes, []);
    await other.close();
  }
  await go('/bench?box=larkspur.toml');
  await waitText('.board', 'Listen, then pluck', 60000);
  await screenshot(page, 'bench-pairs', { fullPage: true });
  await assertAccessible(page);
  assert.deepEqual(page.mistakes, []);
});

test('without a microphone the page says so, and files still do', async () => {
  const deaf = await openBrowser();
  try {
    page = await openPage(deaf);
    await go(`/bench?box=bramble.toml&track=${track}`);
    await page.waitForSelector('.do');
    await press('Listen');
    await waitText('.denied', 'microphone');
    await assertAccessible(page);
  } finally {
    await deaf.close();
  }
});
