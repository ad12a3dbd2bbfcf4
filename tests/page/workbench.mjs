// SPDX-License-Identifier: Apache-2.0
// A workbench and a browser for the tests of the page: `const bench = await openWorkbench()`, at
// the end `await bench.close()`.
import { spawn } from 'node:child_process';
import { copyFile, mkdir, mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import assert from 'node:assert/strict';

export const root = fileURLToPath(new URL('../../', import.meta.url));
const require = createRequire(path.join(root, 'ui/package.json'));
const puppeteer = require('puppeteer-core');
const axeScript = await readFile(require.resolve('axe-core/axe.min.js'), 'utf8');

export const program = path.resolve(process.env.COMBWRIGHT ?? path.join(root, 'build/release/combwright'));
const screenshots = process.env.SCREENSHOTS ?? path.join(root, 'build/page_screenshots');

/** A new folder with the example boxes, the shop file and the tunes in it. */
export async function exampleFolder() {
  const folder = await mkdtemp(path.join(tmpdir(), 'combwright-page-'));
  for (const from of ['examples', 'examples/tunes']) {
    for (const name of await readdir(path.join(root, from))) {
      if (/\.(toml|mid|musicxml)$/.test(name))
        await copyFile(path.join(root, from, name), path.join(folder, name));
    }
  }
  return folder;
}

/** `combwright workbench` in a folder: its address, and how to end it. */
export async function serve(folder, ...options) {
  const server = spawn(program, ['workbench', ...options], { cwd: folder });
  const address = await new Promise((resolve, reject) => {
    let said = '';
    server.stdout.on('data', (chunk) => {
      said += chunk;
      const found = /http:\/\/\S+\//.exec(said);
      if (found) resolve(found[0]);
    });
    server.stderr.on('data', (chunk) => (said += chunk));
    server.on('exit', () => reject(new Error(`the workbench ended: ${said}`)));
  });
  const ended = new Promise((resolve) => server.on('exit', resolve));
  return {
    address,
    pid: server.pid,
    async stop(signal = 'SIGTERM') {
      server.kill(signal);
      return ended;
    },
  };
}

/** A browser of its own; `options` as puppeteer's launch takes them. */
export function openBrowser(options = {}) {
  return puppeteer.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    headless: true,
    ...options,
    args: [
      '--no-sandbox',
      '--disable-dev-shm-usage',
      '--autoplay-policy=no-user-gesture-required',
      ...(options.args ?? []),
    ],
  });
}

/** A page whose mistakes (script errors, refused sources) fail the test at its end. */
export async function openPage(browser, { width = 1280, height = 800, light = 'light' } = {}) {
  const page = await browser.newPage();
  const mistakes = [];
  page.on('pageerror', (error) => mistakes.push(String(error)));
  page.on('console', (message) => {
    const said = message.text();
    // The page shows what the server refuses; the browser counts it as an error too.
    if (message.type() === 'error' && !said.startsWith('Failed to load resource'))
      mistakes.push(said);
  });
  await page.setViewport({ width, height });
  await page.emulateMediaFeatures([{ name: 'prefers-color-scheme', value: light }]);
  page.mistakes = mistakes;
  return page;
}

/** All at once: example folder, workbench, browser, page. */
export async function openWorkbench({ folder, browser = {}, page = {}, options = [] } = {}) {
  const at = folder ?? (await exampleFolder());
  const server = await serve(at, ...options);
  const chromium = await openBrowser(browser);
  const first = await openPage(chromium, page);
  return {
    folder: at,
    server,
    browser: chromium,
    page: first,
    address: server.address,
    /** Opens a view by its address and waits until it stands: `go('/tune?box=larkspur.toml')`. */
    async go(where) {
      await first.goto(server.address + where.replace(/^\//, ''));
      await first.waitForSelector('main h1');
    },
    async close() {
      const { mistakes } = first;
      await chromium.close();
      await server.stop();
      if (!folder) await rm(at, { recursive: true });
      assert.deepEqual(mistakes, []);
    },
  };
}

/** Fails with the list of what WCAG 2.2 A and AA say against the page as it stands. */
export async function assertAccessible(page) {
  // Through the debugger, which the page's content policy does not bind.
  await page.evaluate(axeScript);
  const found = await page.evaluate(async () => {
    const result = await globalThis.axe.run(document, {
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
    });
    return result.violations.map((v) => ({
      rule: v.id,
      what: v.help,
      where: v.nodes.slice(0, 5).map((n) => `${n.target.join(' ')}: ${n.failureSummary}`),
    }));
  });
  assert.deepEqual(found, []);
}

export async function screenshot(page, name, options = {}) {
  await mkdir(screenshots, { recursive: true });
  await page.screenshot({ path: path.join(screenshots, `${name}.png`), ...options });
}
