// SPDX-License-Identifier: Apache-2.0
// node run.mjs OUT.json: how fast the page is in a real browser, measured from outside as its user
// would see it; writes [{figure, reach, measured}]. COMBWRIGHT names the program.
import { writeFile } from 'node:fs/promises';
import { gunzipSync } from 'node:zlib';
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

const figures = [];
const bench = await openWorkbench();
for (const measure of [firstPage, scriptSize]) {
  const row = await measure(bench);
  console.log(`${row.figure}: ${row.measured} (reach ${row.reach})`);
  figures.push(row);
}
await bench.close();
await writeFile(process.argv[2], JSON.stringify(figures));
