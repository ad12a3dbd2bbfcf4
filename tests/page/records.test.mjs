// SPDX-License-Identifier: Apache-2.0
// The records: filed, struck, scrapped, found again and taken away by hand and keyboard.
import assert from 'node:assert/strict';
import { execFile } from 'node:child_process';
import { readdir, readFile } from 'node:fs/promises';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { promisify } from 'node:util';
import { heldBy, pressOn } from './hands.mjs';
import { assertAccessible, openWorkbench, program, screenshot } from './workbench.mjs';

const run = promisify(execFile);
const hostile = '<img src=x onerror=alert(1)> =1+1"; DROP TABLE readings; -- Ö 小夜曲';

let bench;
let page;

const log = (...words) =>
  run(program, ['log', ...words, '--db', 'records.db'], { cwd: bench.folder });
const text = (selector) =>
  page.$eval(selector, (node) => node.textContent.replace(/\s+/g, ' ').trim());
const waitText = (selector, words) => heldBy(page, selector, words);
const rows = (selector) =>
  page.$$eval(`${selector} tbody tr`, (all) =>
    all.map((row) => [...row.cells].map((cell) => cell.textContent.replace(/\s+/g, ' ').trim())),
  );

const press = (words, within) => pressOn(page, words, within);

/** The field of a form by its label. */
async function field(label) {
  const id = await page.$$eval(
    'dialog label, .sheet label',
    (all, what) => all.find((one) => one.textContent.trim().startsWith(what))?.htmlFor ?? '',
    label,
  );
  assert.ok(id, `no field ${label}`);
  return page.$(`#${id}`);
}

const sql = async (query, file = 'records.db') =>
  JSON.parse(
    (await run('sqlite3', ['-json', '-cmd', '.timeout 10000', path.join(bench.folder, file), query])).stdout || '[]',
  );

before(async () => {
  bench = await openWorkbench();
  page = bench.page;
});
after(() => bench.close());

test('before anything is filed the page says so, and files the first reading', async () => {
  await bench.go('/records?box=bramble.toml');
  await waitText('main', 'Nothing has been filed yet');
  await assertAccessible(page);
  await press('Add a reading');
  await page.waitForSelector('dialog[open]');
  await assertAccessible(page);
  await page.select('dialog select', '4');
  await (await field('Pitch as heard')).type('36');
  await page.keyboard.press('Enter');
  await page.waitForSelector('dialog [aria-invalid="true"]');
  assert.match(await text('dialog .wrong'), /^Pitch as heard is 36 Hz, over an octave/);
  assert.deepEqual(
    (await readdir(bench.folder)).filter((name) => name.includes('.db')),
    [],
  );
  await (await field('Pitch as heard')).evaluate((node) => node.select());
  await page.keyboard.type('353.9');
  await (await field('Temperature')).type('21');
  await (await field('Who')).type('Ann');
  await (await field('Remark')).type(hostile);
  await press('File the reading', 'dialog');
  await waitText('.said', 'Reading 1 is filed');
  assert.equal(await page.$('dialog'), null);
  assert.deepEqual(await sql('SELECT frequency_hz, temperature_c, who, remark FROM readings'), [
    { frequency_hz: 353.9, temperature_c: 21, who: 'Ann', remark: hostile },
  ]);
  await page.waitForSelector('.parts table');
  const [first] = await rows('.parts');
  assert.equal(first[0], '1');
  assert.ok(first.includes(hostile), first);
});

test('what others file is there when the page is looked at again', async () => {
  for (const [frequency, clipped] of [
    ['363.1 Hz', '0.7 mm'],
    ['371.8 Hz', '0.6 mm'],
  ])
    await log(
      'add',
      'bramble.toml',
      '--track=4',
      `--frequency=${frequency}`,
      `--clipped=${clipped}`,
      '--who=Ben',
      '--temperature=21 C',
      '--at=2024-05-17',
    );
  await log(
    'add',
    'bramble.toml',
    '--track=5',
    '--frequency=391.8 Hz',
    '--who=Ben',
    '--at=2024-05-18',
  );
  await log('add', 'larkspur.toml', '--comb=back', '--track=1', '--frequency=64 Hz', '--who=Ann');
  await log('test', 'bramble.toml', '--remark=one turn in 38 s', '--who=Ann', '--at=2024-05-19');
  await page.evaluate(() => window.dispatchEvent(new Event('focus')));
  await page.waitForFunction(() => document.querySelectorAll('.parts tbody tr').length >= 5);
  await waitText('main', 'one turn in 38 s');
});

test('a comb and a tooth are chosen, and the address bears it', async () => {
  await press('comb 1');
  await waitText('#comb-title', 'bramble, comb 1');
  assert.match(page.url(), /comb_number=1/);
  await waitText('main', 'not read yet');
  await press('4 F#4');
  await page.waitForSelector('svg[role="img"]');
  assert.match(page.url(), /tooth=4/);
  await page.waitForFunction(() => document.querySelectorAll('.parts tbody tr').length === 4);
  const said = await page.$eval('svg[role="img"]', (svg) => svg.getAttribute('aria-label'));
  // Read at 21 C, brought to the scale's 20 C by 0.206 cents (docs/tooth.md): 1200 log2(371.8 / 369.99).
  assert.match(said, /3 readings that count, the last at \+8\.\d\d cent/);
  await page.reload();
  await waitText('#readings-title', 'Readings of tooth 4');
  await page.waitForSelector('svg[role="img"]');
});

test('a reading is struck with a reason, by keyboard alone', async () => {
  const strike = await page.evaluateHandle(() =>
    [...document.querySelectorAll('button')].find((one) =>
      /reading 3$/.test(one.textContent.trim()),
    ),
  );
  await strike.focus();
  await page.keyboard.press('Enter');
  await page.waitForSelector('dialog[open]');
  await assertAccessible(page);
  await page.keyboard.press('Escape');
  await page.waitForFunction(() => !document.querySelector('dialog'));
  // Back where the keyboard was.
  assert.match(await page.evaluate(() => document.activeElement.textContent), /reading 3/);
  await page.keyboard.press('Enter');
  await page.waitForSelector('dialog[open]');
  await page.focus('dialog input[type="checkbox"]');
  await page.keyboard.press('Space');
  await page.keyboard.press('Tab');
  await page.keyboard.type('other tooth');
  await page.keyboard.press('Tab');
  await page.keyboard.press('Enter');
  await waitText('.said', 'Reading 3 is struck');
  assert.equal(await page.evaluate(() => document.activeElement.className.includes('said')), true);
  await page.waitForSelector('tr.struck');
  assert.match(await text('tr.struck'), /Struck with its work: other tooth/);
  assert.match(
    await page.$eval('tr.struck .value', (cell) => getComputedStyle(cell).textDecorationLine),
    /line-through/,
  );
  assert.deepEqual(await sql("SELECT id, struck, work_struck FROM readings WHERE struck <> ''"), [
    { id: 3, struck: 'other tooth', work_struck: 1 },
  ]);
});

test('filters leave what they ask for', async () => {
  await bench.go('/records?box=bramble.toml&who=Ben&since=2024-05-18');
  await page.waitForSelector('.parts table');
  await page.waitForFunction(() => document.querySelectorAll('.parts table')[0].rows.length === 2);
  assert.match((await rows('.parts'))[0].join(' '), /^4 2024-05-18 Ben/);
});

test('a test of the box is filed', async () => {
  await press('File a test');
  await page.waitForSelector('dialog[open]');
  await assertAccessible(page);
  await (await field('What came out')).type('no tooth silent');
  await press('File the test', 'dialog');
  await waitText('.said', 'Test 2 is filed');
  assert.equal((await sql('SELECT remark FROM tests WHERE id = 2'))[0].remark, 'no tooth silent');
});

test('copies, table and certificate are taken away', async () => {
  const devtools = await page.createCDPSession();
  await devtools.send('Browser.setDownloadBehavior', {
    behavior: 'allow',
    downloadPath: path.join(bench.folder, 'taken'),
  });
  const taken = async (ending) => {
    for (let i = 0; i < 200; ++i) {
      const names = await readdir(path.join(bench.folder, 'taken')).catch(() => []);
      const found = names.find((name) => name.endsWith(ending));
      if (found) return path.join(bench.folder, 'taken', found);
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
    return assert.fail(`no ${ending} was taken`);
  };
  await bench.go('/records?box=bramble.toml&comb_number=1');
  await waitText('main', 'not read yet');
  await press('Certificate');
  assert.match((await readFile(await taken('.pdf'))).subarray(0, 5).toString(), /^%PDF-/);
  await press('Export (CSV)');
  const python =
    'import csv, json, sys; print(json.dumps(list(csv.DictReader(open(sys.argv[1], newline="")))))';
  const table = JSON.parse(
    (await run('/usr/bin/python3', ['-c', python, await taken('.csv')])).stdout,
  );
  assert.deepEqual(
    table.map((row) => row.frequency_hz),
    ['353.9', '363.1', '371.8', '391.8'],
  );
  await press('Check the records');
  await waitText('main', 'is sound: 2 boxes, 2 combs');
  await (await field('Copy into this folder as')).evaluate((node) => node.select());
  await page.keyboard.type('mine.db');
  await page.keyboard.press('Enter');
  await waitText('main', 'mine.db is written and checked');
  assert.deepEqual(
    await sql('SELECT id, frequency_hz FROM readings', 'mine.db'),
    await sql('SELECT id, frequency_hz FROM readings'),
  );
  await page.keyboard.press('Enter');
  await waitText('main', 'is there already');
  await press('Download a copy');
  assert.deepEqual(
    await sql('PRAGMA integrity_check', path.relative(bench.folder, await taken('.db'))),
    [{ integrity_check: 'ok' }],
  );
});

test('a comb is scrapped, and stays', async () => {
  await press('back');
  await waitText('#comb-title', 'larkspur');
  await press('Scrap this comb');
  await page.waitForSelector('dialog[open]');
  await assertAccessible(page);
  await (await field('Why')).type('lead gone');
  await press('Scrap it', 'dialog');
  await waitText('.said', 'The comb is scrapped');
  await waitText('main', 'lead gone');
  assert.deepEqual(await sql('SELECT scrapped_why FROM combs WHERE id = 2'), [
    { scrapped_why: 'lead gone' },
  ]);
});

test('light, dark, wide, narrow and on paper it breaks no rule', async () => {
  for (const light of ['light', 'dark']) {
    await page.emulateMediaFeatures([{ name: 'prefers-color-scheme', value: light }]);
    for (const width of [1280, 390]) {
      await page.setViewport({ width, height: 800 });
      for (const [name, where] of [
        ['all', ''],
        ['tooth', '&comb_number=1&tooth=4'],
      ]) {
        await bench.go(`/records?box=bramble.toml${where}`);
        await page.waitForSelector('.parts table');
        await waitText('main', where ? 'Certificate (PDF)' : 'no tooth silent');
        await assertAccessible(page);
        await screenshot(page, `records-${name}-${light}-${width}`, { fullPage: true });
        const over = await page.evaluate(
          () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
        );
        assert.ok(over <= 0, `${over} px wider than ${width}`);
      }
    }
  }
  await page.setViewport({ width: 1280, height: 800 });
  await page.emulateMediaType('print');
  assert.equal(
    await page.$$eval(
      'main button',
      (all) => all.filter((one) => one.offsetParent && !one.closest('ul')).length,
    ),
    0,
  );
  await screenshot(page, 'records-print', { fullPage: true });
  await page.emulateMediaType(null);
});
