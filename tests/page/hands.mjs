// SPDX-License-Identifier: Apache-2.0
// What the tests of the page do with it: wait for words, press buttons, ask its server.
import assert from 'node:assert/strict';
import { assertAccessible, screenshot } from './workbench.mjs';

/** Until the view shows these words. */
export const shownOn = (page, words) =>
  page.waitForFunction((t) => document.querySelector('main')?.innerText.includes(t), {}, words);

/** Until an element holds these words, be they only read out. */
export const heldBy = (page, selector, words) =>
  page.waitForFunction(
    (where, what) => document.querySelector(where)?.textContent.includes(what),
    {},
    selector,
    words,
  );

/** The server's answer to a question of the page. */
export const askOn = (page, question, fields) =>
  page.evaluate(
    async (name, body) =>
      (await fetch(`/api/${name}`, { method: 'POST', body: JSON.stringify(body) })).json(),
    question,
    fields,
  );

/** Presses the button of these words, also of those that are read out only, once there is one. */
export async function pressOn(page, words, within = 'main') {
  const button = await page.waitForFunction(
    (where, what) =>
      [...document.querySelectorAll(`${where} button`)].find(
        (one) => !one.disabled && one.textContent.replace(/\s+/g, ' ').trim().startsWith(what),
      ),
    {},
    within,
    words,
  );
  await button.click();
}

/**
 * A view wide and narrow, light and dark: no rule is broken and nothing stands out at the side.
 * `open` shows it, ready to be looked at. At the end it stands as it would on paper.
 */
export async function standsEverywhere(page, name, open) {
  for (const light of ['light', 'dark']) {
    await page.emulateMediaFeatures([{ name: 'prefers-color-scheme', value: light }]);
    for (const width of [1280, 390]) {
      await page.setViewport({ width, height: 844 });
      await open();
      await screenshot(page, `${name}-${light}-${width}`, { fullPage: true });
      await assertAccessible(page);
      const beyond = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      assert.ok(beyond <= 0, `${beyond} px too wide`);
    }
  }
  await page.emulateMediaFeatures([{ name: 'prefers-color-scheme', value: 'light' }]);
  await page.setViewport({ width: 1280, height: 800 });
  await page.emulateMediaType('print');
  await screenshot(page, `${name}-print`, { fullPage: true });
}
