// SPDX-License-Identifier: Apache-2.0
// A whole session: from an empty folder to a pack, with a reload in the middle and the server killed
// while readings are filed. Nothing that was acknowledged may be lost.
import assert from 'node:assert/strict';
import { execFile } from 'node:child_process';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { promisify } from 'node:util';
import { heldBy, pressOn } from './hands.mjs';
import { assertAccessible, openBrowser, openPage, root, serve } from './workbench.mjs';

const run = promisify(execFile);
const box = 'bramble.toml';
const tune = 'hedgerow-morning.mid';

let folder;
let server;
let browser;
let page;

const sql = async (query) =>
  JSON.parse(
    (await run('sqlite3', ['-json', path.join(folder, 'records.db'), query])).stdout || '[]',
  );
const go = async (where) => {
  await page.goto(server.address + where);
  await page.waitForSelector('main h1');
};
const waitText = (selector, words) => heldBy(page, selector, words);
const press = (words, within) => pressOn(page, words, within);
async function type(label, text) {
  const id = await page.$$eval(
    'dialog label',
    (all, what) => all.find((one) => one.textContent.trim().startsWith(what)).htmlFor,
    label,
  );
  await page.type(`#${id}`, text);
}

/** The same server again, at its address. */
async function restart() {
  server = await serve(folder, '--port', new URL(server.address).port);
}

/** A file of the examples, as the page writes one into the folder. */
async function copyIn(name, from) {
  const bytes = (await readFile(path.join(root, from))).toString('base64');
  const status = await page.evaluate(
    async (file, text) => {
      const body = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
      return (await fetch(`/api/files/${file}`, { method: 'PUT', body })).status;
    },
    name,
    bytes,
  );
  assert.equal(status, 200);
}

before(async () => {
  folder = await mkdtemp(path.join(tmpdir(), 'combwright-session-'));
  server = await serve(folder);
  browser = await openBrowser();
  page = await openPage(browser);
});
after(async () => {
  const { mistakes } = page;
  await browser.close();
  await server.stop();
  await rm(folder, { recursive: true });
  assert.deepEqual(mistakes, []);
});

test('it begins in an empty folder, and box and tune come in', async () => {
  for (const view of ['box', 'comb', 'records']) {
    await go(view);
    await assertAccessible(page);
  }
  await copyIn(box, `examples/${box}`);
  await copyIn(tune, `examples/tunes/${tune}`);
  assert.deepEqual(
    await readFile(path.join(folder, box)),
    await readFile(path.join(root, 'examples', box)),
  );
});

test('the comb is designed', async () => {
  await go(`comb?box=${box}&tune=${tune}`);
  await waitText('main', 'F#4');
});

test('a reading that the server was killed before stays in its form until it is filed', async () => {
  await go(`records?box=${box}&tune=${tune}`);
  await press('Add a reading');
  await page.waitForSelector('dialog[open]');
  await page.select('dialog select', '4');
  await type('Pitch as heard', '353.9');
  await type('Who', 'Ann');
  await server.stop('SIGKILL');
  await press('File the reading', 'dialog');
  await waitText('dialog', 'does not answer');
  await restart();
  await press('File the reading', 'dialog');
  await waitText('main', 'Reading 1 is filed');
  assert.deepEqual(await sql('SELECT id, frequency_hz, who FROM readings'), [
    { id: 1, frequency_hz: 353.9, who: 'Ann' },
  ]);
});

test('no reading that was acknowledged is lost when the server is killed, however often', async () => {
  // Asks on and on, past every refusal, and keeps what the server has acknowledged.
  await page.evaluate((name) => {
    globalThis.acknowledged = [];
    globalThis.filing = true;
    globalThis.ended = (async () => {
      for (let i = 0; globalThis.filing; ++i) {
        const frequency = `${350 + i / 100} Hz`;
        const fields = { box: name, track: 4, frequency, remark: `${i}` };
        const reply = await fetch('/api/log/add', {
          method: 'POST',
          body: JSON.stringify(fields),
        }).catch(() => null);
        const answer = reply?.ok ? await reply.json().catch(() => null) : null;
        if (answer) globalThis.acknowledged.push([answer.reading.number, `${i}`]);
        else await new Promise((resolve) => setTimeout(resolve, 20));
      }
    })();
  }, box);
  const until = (count) =>
    page.waitForFunction((most) => globalThis.acknowledged.length >= most, {}, count);
  for (const count of [5, 12, 20]) {
    await until(count);
    await server.stop('SIGKILL');
    await restart();
  }
  await until(30);
  const acknowledged = await page.evaluate(async () => {
    globalThis.filing = false;
    await globalThis.ended;
    return globalThis.acknowledged;
  });
  const filed = new Map(
    (await sql('SELECT id, remark FROM readings')).map((row) => [row.id, row.remark]),
  );
  for (const [number, remark] of acknowledged) assert.equal(filed.get(number), remark);
  assert.deepEqual(await sql('PRAGMA integrity_check'), [{ integrity_check: 'ok' }]);
});

test('after a reload in the middle it goes on where it was', async () => {
  await go(`records?box=${box}&tune=${tune}`);
  await press('comb 1');
  await press('4 F#4');
  await waitText('#readings-title', 'tooth 4');
  await page.reload();
  await waitText('#readings-title', 'tooth 4');
  await press('Certificate');
});

test('the session ends with the pack', async () => {
  await page.click('nav a[href^="/disc"]');
  await press('Write all of them there');
  await waitText('main', 'Written to the folder');
  const { stdout } = await run('sha256sum', ['-c', 'SHA256SUMS'], {
    cwd: path.join(folder, 'hedgerow-morning-bramble-pack'),
  });
  assert.ok(stdout.split('\n').filter((line) => line.endsWith(': OK')).length > 10, stdout);
});
