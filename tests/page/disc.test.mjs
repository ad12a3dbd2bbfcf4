// SPDX-License-Identifier: Apache-2.0
import assert from 'node:assert/strict';
import { readdir, readFile, mkdtemp } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { askOn, shownOn } from './hands.mjs';
import { assertAccessible, openWorkbench, screenshot } from './workbench.mjs';

let bench;
let page;
const address = '/disc?box=bramble.toml&tune=bramble-waltz.musicxml';
const shown = (text) => shownOn(page, text);

const plan = () => askOn(page, 'disc', { box: 'bramble.toml', tune: 'bramble-waltz.musicxml' });

/** Where a projection is drawn while the disc is fitted and not turned. */
async function placeOf({ projections, outer_radius_m }, hit) {
  const box = await page.$eval('[role=application] canvas', (canvas) => {
    const { left, top, width, height } = canvas.getBoundingClientRect();
    return { left, top, width, height };
  });
  const zoom = Math.min(box.width, box.height) / (2.2 * 1000 * outer_radius_m);
  const { radius_m, angle_rad } = projections[hit];
  return {
    x: box.left + box.width / 2 + zoom * 1000 * radius_m * Math.cos(angle_rad),
    y: box.top + box.height / 2 - zoom * 1000 * radius_m * Math.sin(angle_rad),
  };
}

before(async () => {
  bench = await openWorkbench();
  page = bench.page;
});
after(() => bench.close());

test('the hits are gone through by keyboard, each with its numbers', async () => {
  await bench.go(address);
  await page.waitForSelector('[role=application]');
  await page.focus('[role=application]');
  await page.keyboard.press('ArrowRight');
  await shown('Hit 1 of 143');
  const first = (await plan()).projections[0];
  await shown(`${(1000 * first.radius_m).toFixed(2)} mm`);
  await shown(`${first.time_s.toFixed(3)} s`);
  await page.keyboard.press('ArrowLeft');
  await shown('Hit 143 of 143');
  await assertAccessible(page);
});

test('a click on a projection chooses it', async () => {
  const at = await placeOf(await plan(), 20);
  await page.mouse.click(at.x, at.y);
  await shown('Hit 21 of 143');
});

test('what lies under the pointer is told, until Escape', async () => {
  await bench.go(address);
  const table = await page.waitForSelector('[role=application]');
  const disc = await plan();
  const at = await placeOf(disc, 20);
  await page.mouse.move(at.x, at.y);
  await page.waitForSelector('.told');
  const told = await page.$eval('.told', (p) => p.innerText);
  assert.match(told, /Hit 21\b/);
  assert.ok(told.includes(`${(1000 * disc.projections[20].radius_m).toFixed(2)} mm`));
  assert.ok(told.includes(`${((180 / Math.PI) * disc.projections[20].angle_rad).toFixed(3)}°`));
  await screenshot(page, 'disc-pointed');
  await assertAccessible(page);
  await table.focus();
  await page.keyboard.press('Escape');
  await page.waitForFunction(() => !document.querySelector('.told'));
});

test('a finding moves the drawing to what it is about', async () => {
  await bench.go(address);
  await page.waitForSelector('[role=application]');
  const { findings, projections } = await plan();
  const finding = findings.find(({ at }) => at?.notes);
  const hit = projections.findIndex(({ note }) => finding.at.notes.includes(note));
  const button = await page.waitForSelector(`::-p-xpath(//li//button[.="${finding.where}"])`);
  await button.click();
  await shown(`Hit ${hit + 1} of 143`);
  await screenshot(page, 'disc-finding');
  await assertAccessible(page);
});

test('a track is shown with its hits, and each can be chosen', async () => {
  await bench.go(address);
  await page.waitForSelector('[role=application]');
  const { projections } = await plan();
  const { track } = projections[0];
  await (
    await page.waitForSelector(`::-p-xpath(//td/button[contains(., "Show track ${track}")])`)
  ).click();
  await shown(`Hits of track ${track}`);
  const expected = projections
    .map((projection, i) => ({ ...projection, hit: i + 1 }))
    .filter((projection) => projection.track === track)
    .sort((a, b) => a.time_s - b.time_s);
  const listed = await page.$$eval('.hits button', (all) =>
    all.map((one) => Number(/^Hit (\d+), [\d.]+ s$/.exec(one.innerText.replace(/\s+/g, ' '))?.[1])),
  );
  assert.deepEqual(
    listed,
    expected.map(({ hit }) => hit),
  );
  await (await page.$('.hits button')).click();
  await shown(`Hit ${expected[0].hit} of 143`);
  await screenshot(page, 'disc-track', { fullPage: true });
  await assertAccessible(page);
});

test('the disc plays and turns under the bar', async () => {
  await bench.go(address);
  await page.waitForSelector('.player button');
  await page.click('.player button');
  await shown('Pause');
  await page.waitForFunction(
    () => Number.parseFloat(document.querySelector('.player .time').textContent) > 1.2,
  );
  await screenshot(page, 'disc-playing');
  await page.click('.player button');
  await shown('Play');
});

// Each move of the disc from within a frame must be seen in that frame or the next, none left out.
test('no step of the disc is left out while it turns', async () => {
  await bench.go(address);
  const canvas = await page.waitForSelector('[role=application] canvas');
  await canvas.scrollIntoView();
  const pictures = await page.evaluate(async () => {
    const canvas = document.querySelector('[role=application] canvas');
    const { left, top, width, height } = canvas.getBoundingClientRect();
    const point = (type, angle) =>
      canvas.dispatchEvent(
        new PointerEvent(type, {
          pointerId: 1,
          bubbles: true,
          buttons: 1,
          clientX: left + width / 2 + 0.3 * height * Math.cos(angle),
          clientY: top + height / 2 + 0.3 * height * Math.sin(angle),
        }),
      );
    canvas.setPointerCapture = () => {};
    const frame = () => new Promise(requestAnimationFrame);
    point('pointerdown', 0);
    const seen = new Set();
    for (let i = 1; i <= 20; ++i) {
      point('pointermove', 0.1 * i);
      await frame();
      seen.add(canvas.toDataURL());
    }
    point('pointerup', 0);
    return seen.size;
  });
  assert.ok(pictures >= 19, `${pictures} of 20`);
});

test('every file comes down as the pack has it, and the pack is written', async () => {
  const folder = await mkdtemp(path.join(tmpdir(), 'combwright-down-'));
  const session = await page.createCDPSession();
  await session.send('Browser.setDownloadBehavior', { behavior: 'allow', downloadPath: folder });
  await bench.go(address);
  const button = await page.waitForSelector('::-p-xpath(//li/button[contains(., "disc.dxf")])');
  await button.click();
  for (let i = 0; i < 100; ++i) {
    if ((await readdir(folder)).includes('disc.dxf')) break;
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  const write = await page.waitForSelector('::-p-text(Write all of them there)');
  await page.waitForFunction((b) => !b.disabled, {}, write);
  await write.click();
  await shown('Written to the folder bramble-waltz-bramble-pack');
  const [down, packed] = await Promise.all([
    readFile(path.join(folder, 'disc.dxf')),
    readFile(path.join(bench.folder, 'bramble-waltz-bramble-pack', 'disc.dxf')),
  ]);
  assert.ok(down.equals(packed));
});

test('the tour is shown to its end', async () => {
  await bench.go(address);
  await page.waitForSelector('input[type=range]');
  await page.$eval('input[type=range]', (slider) => {
    slider.value = '8';
    slider.dispatchEvent(new Event('input', { bubbles: true }));
  });
  await (await page.waitForSelector('::-p-text(Show the tour)')).click();
  await shown('Hit 143 of 143');
  await screenshot(page, 'disc-tour');
  await page.setViewport({ width: 390, height: 844 });
  await screenshot(page, 'disc-narrow', { fullPage: true });
  await assertAccessible(page);
});
