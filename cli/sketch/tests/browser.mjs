// The page in headless Chromium, and hands on it: CHROMIUM names the browser, LINKMARGIN_PICTURES a folder where pictures are left.
import {mkdirSync, rmSync} from 'node:fs';
import {after, before} from 'node:test';
import {pathToFileURL} from 'node:url';
import {chromium} from 'playwright-core';
import {folder, pageWith} from './support.mjs';

export const pictures = process.env.LINKMARGIN_PICTURES;
if (pictures) mkdirSync(pictures, {recursive: true});

export let browser;
before(async () => {
  browser = await chromium.launch({executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium', args: ['--no-sandbox']});
});
after(async () => {
  await browser?.close();
  rmSync(folder, {recursive: true, force: true});
});

/** Opens the page with a site; what it asked for and said is kept. */
export async function opened(text, options = {}) {
  const context = await browser.newContext({viewport: {width: 1280, height: 900}, locale: 'en-GB', ...options});
  const page = await context.newPage();
  const asked = [], said = [];
  const address = pathToFileURL(pageWith(text)).href;
  page.on('request', (request) => asked.push(request.url()));
  page.on('console', (message) => said.push(message.text()));
  page.on('pageerror', (error) => said.push(error.message));
  page.on('dialog', (dialog) => dialog.accept());
  await page.goto(address);
  await page.waitForSelector('html[data-ready]', {timeout: 20_000});
  const foreign = () => asked.filter((url) => url !== address && !/^(data|blob):/.test(url));
  return {page, said, foreign, close: () => context.close()};
}

export const textOf = (page) => page.evaluate(() => globalThis.linkmargin.sketch.text);
export const figuresOf = (page) => page.evaluate(() => globalThis.linkmargin.sketch.checked?.devices ?? null);
export const place = (page, at) => page.evaluate((where) => globalThis.linkmargin.view.onScreen(where), at);
export const settled = (page, text) => page.waitForFunction(
    (before) => globalThis.linkmargin.sketch.text !== before && globalThis.linkmargin.sketch.shownText === globalThis.linkmargin.sketch.text, text);

export async function dragged(page, from, to, steps = 8) {
  const [x1, y1] = await place(page, from), [x2, y2] = await place(page, to);
  await page.mouse.move(x1, y1);
  await page.mouse.down();
  await page.mouse.move(x2, y2, {steps});
  await page.mouse.up();
}

/** Does something that changes the text. @returns the new one */
export async function changed(page, act) {
  const before = await textOf(page);
  await act();
  await settled(page, before);
  return textOf(page);
}

/** Takes the last change back. @param text  that is there again then */
export async function undone(page, text) {
  await page.click('#undo');
  await page.waitForFunction((one) => globalThis.linkmargin.sketch.shownText === one, text);
}

export const tipOf = (page) => page.textContent('#tip');

export async function click(page, at) {
  await page.mouse.click(...await place(page, at));
}

/** A storey that is looked at from 2 m beside its lower left corner. */
export const looked = (page) => page.evaluate(() => {
  globalThis.linkmargin.view.view = [-2, -10, 16, 12];
  globalThis.linkmargin.view.show();
});

