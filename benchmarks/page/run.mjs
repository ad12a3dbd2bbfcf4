// SPDX-License-Identifier: Apache-2.0
// node run.mjs OUT.json: how fast the page is in a real browser, measured from outside as its user
// would see it; writes [{figure, reach, measured}]. COMBWRIGHT names the program.
import assert from 'node:assert/strict';
import { writeFile } from 'node:fs/promises';
import path from 'node:path';
import { gunzipSync } from 'node:zlib';
import { denseTune } from './dense_tune.mjs';
import { pluckSound } from '../../tests/page/plucks.mjs';
import { openBrowser, openPage, openWorkbench } from '../../tests/page/workbench.mjs';

const runs = 15;

export function median(values) {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length / 2;
  return sorted.length % 2 ? sorted[Math.floor(middle)] : (sorted[middle - 1] + sorted[middle]) / 2;
}

/** A new browser, nothing kept: from asking for the address until the view is drawn. */
async function firstPage(bench) {
  const times = [];
  for (let i = 0; i < runs; ++i) {
    const browser = await openBrowser();
    const page = await openPage(browser);
    await page.evaluateOnNewDocument(() => {
      const seen = new MutationObserver(() => {
        if (!document.querySelector('main h1')) return;
        seen.disconnect();
        requestAnimationFrame(() => requestAnimationFrame(() => (window.drawn = performance.now())));
      });
      seen.observe(document, { childList: true, subtree: true });
    });
    await page.goto(`${bench.address}box?box=larkspur.toml`);
    const drawn = await page.waitForFunction(() => window.drawn);
    times.push(await drawn.jsonValue());
    await browser.close();
  }
  return { figure: 'first page from cold', reach: '<= 500 ms', measured: `${median(times).toFixed(0)} ms` };
}

/** All script that the page may ever load, as it goes over the wire. */
async function scriptSize(bench) {
  const scripts = new Set();
  const seen = async (path) => {
    if (scripts.has(path)) return;
    scripts.add(path);
    const text = await (await fetch(new URL(path, bench.address))).text();
    for (const [, name] of text.matchAll(/["'`](?:\.\/|\/?assets\/)([\w.-]+\.js)["'`]/g))
      await seen(`/assets/${name}`);
  };
  const html = await (await fetch(bench.address)).text();
  for (const [, path] of html.matchAll(/src="(\/assets\/[^"]+\.js)"/g)) await seen(path);
  let bytes = 0;
  for (const path of scripts) {
    const packed = await wire(new URL(path, bench.address));
    gunzipSync(packed);
    bytes += packed.length;
  }
  return {
    figure: `script of the whole page, compressed (${scripts.size} files)`,
    reach: '<= 300 kB',
    measured: `${(bytes / 1000).toFixed(0)} kB`,
  };
}

/** The bytes as they are sent, not unpacked. */
async function wire(url) {
  const { get } = await import('node:http');
  return new Promise((resolve, reject) => {
    get(url, { headers: { 'Accept-Encoding': 'gzip' } }, (response) => {
      const chunks = [];
      response.on('data', (chunk) => chunks.push(chunk));
      response.on('end', () => resolve(Buffer.concat(chunks)));
    }).on('error', reject);
  });
}

/** How many frames the browser showed between two marks of the page, by the browser's own trace. */
function shownBetween(trace, from, to) {
  const { traceEvents } = JSON.parse(Buffer.from(trace).toString());
  const at = (name) => traceEvents.find((event) => event.name === name).ts;
  const [start, end] = [at(from), at(to)];
  return traceEvents.filter(({ name, ts }) => name === 'DrawFrame' && ts >= start && ts <= end).length;
}

/**
 * A disc of 2,000 projections dragged round by the mouse, a little further with every frame: frames
 * that the browser showed in a second. What the page is called back for is no measure of that.
 */
async function turning(bench) {
  const hits = 2000;
  const ask = async (question, fields) =>
    (await fetch(new URL(`api/${question}`, bench.address), { method: 'POST', body: JSON.stringify(fields) })).json();
  const { box } = await ask('check', { box: 'larkspur.toml' });
  const notes = [...new Set(box.tracks.list.map((track) => track.midi))].sort((a, b) => a - b);
  await writeFile(path.join(bench.folder, 'dense.mid'), denseTune(notes));
  const fields = { box: 'larkspur.toml', tune: 'dense.mid', transpose: '0' };
  assert.equal((await ask('disc', fields)).projections.length, hits);

  await bench.go('/disc?box=larkspur.toml&tune=dense.mid&transpose=0');
  const { page } = bench;
  const canvas = await page.waitForSelector('[role=application] canvas');
  await page.waitForFunction(() => /Hits\s*2000/.test(document.querySelector('main').innerText));
  await page.waitForNetworkIdle();
  await canvas.scrollIntoView();
  await page.tracing.start({
    categories: ['blink.user_timing', 'disabled-by-default-devtools.timeline.frame'],
  });
  const seconds = await page.evaluate(async () => {
    const canvas = document.querySelector('[role=application] canvas');
    const { left, top, width, height } = canvas.getBoundingClientRect();
    const pointer = (type, angle) =>
      canvas.dispatchEvent(
        new PointerEvent(type, {
          pointerId: 1,
          bubbles: true,
          buttons: 1,
          clientX: left + width / 2 + 0.3 * height * Math.cos(angle),
          clientY: top + height / 2 + 0.3 * height * Math.sin(angle),
        }),
      );
    // Of a pointer that no hand holds.
    canvas.setPointerCapture = () => {};
    const frame = () => new Promise(requestAnimationFrame);
    pointer('pointerdown', 0);
    for (let i = 1; i <= 30; ++i) {
      pointer('pointermove', i * 0.02);
      await frame();
    }
    const turns = 300;
    performance.mark('turning-from');
    const start = performance.now();
    for (let i = 1; i <= turns; ++i) {
      pointer('pointermove', 0.6 + i * 0.02);
      await frame();
    }
    const seconds = (performance.now() - start) / 1000;
    performance.mark('turning-to');
    pointer('pointerup', 0);
    return seconds;
  });
  const measured = shownBetween(await page.tracing.stop(), 'turning-from', 'turning-to') / seconds;
  return {
    figure: `turning a disc of ${hits} projections, frames a second`,
    reach: '60 (the screen\'s own)',
    measured: measured.toFixed(0),
  };
}

/** Milliseconds from a change of a field to the frame after which the text says something else. */
async function fromChangeToPicture(page, field, values, said) {
  const times = [];
  for (let i = 0; i < 2 * runs; ++i) {
    times.push(
      await page.evaluate(
        (selector, value, where) =>
          new Promise((resolve) => {
            const input = document.querySelector(selector);
            const text = () => document.querySelector(where).textContent;
            const before = text();
            const start = performance.now();
            input.value = value;
            for (const kind of ['input', 'change'])
              input.dispatchEvent(new Event(kind, { bubbles: true }));
            const look = () =>
              requestAnimationFrame(() =>
                text() === before ? look() : resolve(performance.now() - start),
              );
            look();
          }),
        field,
        values[i % values.length],
        said,
      ),
    );
  }
  return median(times);
}

/** A tune of three minutes on the larger box: another transposition. */
async function tuneOption(bench) {
  const page = await openPage(await openBrowser());
  await page.goto(`${bench.address}tune?box=larkspur.toml&tune=round-the-millpond.musicxml`);
  await page.waitForSelector('[role=slider] rect.kept');
  const field = 'form label:nth-of-type(3) input';
  const measured = await fromChangeToPicture(page, field, ['1', '2', '-1', '0'], 'main dl');
  await page.browser().close();
  return {
    figure: 'another transposition of a 3-minute tune, to its new picture',
    reach: '<= 100 ms',
    measured: `${measured.toFixed(0)} ms`,
  };
}

/** Another diameter of the disc, to the new section. */
async function boxEdit(bench) {
  const page = await openPage(await openBrowser());
  await page.goto(`${bench.address}box?box=larkspur.toml`);
  await page.waitForFunction(() => document.querySelector('main svg')?.textContent.includes('disc'));
  const field = '#box-disc-diameter';
  await page.waitForFunction((at) => document.querySelector(at)?.value === '420 mm', {}, field);
  const measured = await fromChangeToPicture(
    page,
    field,
    ['421 mm', '422 mm', '423 mm'],
    'main svg',
  );
  await page.browser().close();
  return {
    figure: 'another diameter of the disc, to the box in section',
    reach: '<= 100 ms',
    measured: `${measured.toFixed(0)} ms`,
  };
}

/**
 * A tooth plucked again and again before a microphone, and held with a finger before it is known
 * well enough to be read while it rings: from the last sound of each pluck to its reading filed and
 * the advice drawn. When that sound came in is told by the samples themselves.
 */
async function advice(bench) {
  const plucks = 15;
  const file = path.join(bench.folder, 'plucks.wav');
  const pitches = Array(plucks).fill(425);
  await writeFile(file, pluckSound(pitches, { first_s: 3, apart_s: 3, held_after_s: 0.6 }));
  const browser = await openBrowser({
    args: [
      '--use-fake-device-for-media-stream',
      '--use-fake-ui-for-media-stream',
      `--use-file-for-fake-audio-capture=${file}%noloop`,
    ],
  });
  const page = await openPage(browser);
  await page.evaluateOnNewDocument(() => {
    window.lastLoud = 0;
    const Node = window.AudioWorkletNode;
    window.AudioWorkletNode = class extends Node {
      constructor(...words) {
        super(...words);
        this.port.addEventListener('message', ({ data }) => {
          const last = data.findLastIndex((sample) => Math.abs(sample) > 0.01);
          const rate_hz = this.context.sampleRate;
          if (last >= 0)
            window.lastLoud = performance.now() - (1000 * (data.length - 1 - last)) / rate_hz;
        });
      }
    };
  });
  await page.goto(`${bench.address}bench?box=bramble.toml&track=7`);
  await page.waitForFunction(() => document.querySelector('.board')?.textContent.includes('Listen, then pluck'));
  const times = await page.evaluate(async (count) => {
    [...document.querySelectorAll('main button')].find((one) => /Listen/.test(one.textContent)).click();
    const times = [];
    for (let reading = 1; reading <= count; ++reading) {
      const filed = `Reading ${reading} is filed`;
      while (!document.querySelector('.heard')?.textContent.includes(filed))
        await new Promise(requestAnimationFrame);
      await new Promise(requestAnimationFrame);
      times.push(performance.now() - window.lastLoud);
    }
    return times;
  }, plucks);
  await browser.close();
  return {
    figure: 'end of a pluck to advice on screen',
    reach: '<= 500 ms',
    measured: `${median(times).toFixed(0)} ms`,
  };
}

const figures = [];
const bench = await openWorkbench();
for (const measure of [firstPage, scriptSize, tuneOption, boxEdit, turning, advice]) {
  const row = await measure(bench);
  console.log(`${row.figure}: ${row.measured} (reach ${row.reach})`);
  figures.push(row);
}
await bench.close();
await writeFile(process.argv[2], JSON.stringify(figures));
