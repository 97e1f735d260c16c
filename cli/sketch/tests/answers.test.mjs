// What the page says of a site and how it shows it: words on the plan, the map, readings that were taken, better places, advice.
import assert from 'node:assert/strict';
import {readFileSync} from 'node:fs';
import {join} from 'node:path';
import {test} from 'node:test';
import {colours, steps} from '../source/palette.mjs';
import {changed, dragged, figuresOf, opened, pictures, textOf, undone} from './browser.mjs';
import {checked, data, randomSite, reportOf, sameFigures} from './support.mjs';

const demo = readFileSync(join(data, 'sites/kiln-lane.yaml'), 'utf8');

/** Where words stand from their symbols, by symbol, and their boxes on the screen. */
const labels = (page) => page.evaluate(() => {
  const sheet = document.getElementById('plan').getBoundingClientRect();
  return Object.fromEntries([...document.querySelectorAll('.radio')].map((radio) => {
    const paper = radio.querySelector('.paper'), hidden = paper.parentElement.style.display === 'none';
    const {left, top, right, bottom} = paper.getBoundingClientRect();
    const anchor = radio.querySelector('text').getAttribute('text-anchor'), y = radio.querySelector('text').getAttribute('y');
    return [radio.dataset.name, hidden ? null : {
      stands: `${anchor} ${y} ${radio.querySelector('text').getAttribute('x')}`, text: [...radio.querySelectorAll('text')].map((one) => one.textContent).join(' '),
      box: [left - sheet.left, top - sheet.top, right - sheet.left, bottom - sheet.top], sheet: [sheet.width, sheet.height]}];
  }));
});
const stands = (found) => Object.fromEntries(Object.entries(found).map(([name, one]) => [name, one?.stands ?? null]));

for (const [width, colorScheme] of [[1280, 'light'], [360, 'dark']]) {
  test(`${width} px, ${colorScheme}: words stay where they stand, on the sheet, whatever is selected or moved`, async () => {
    const {page, close} = await opened(demo, {viewport: {width, height: 900}, colorScheme});
    const first = await labels(page);
    const isOnSheet = (all) => Object.values(all).filter(Boolean).every(({box: [left, top, right, bottom], sheet}) =>
      left > -3 && top > -1 && right < sheet[0] + 3 && bottom < sheet[1] + 1);
    assert.ok(isOnSheet(first));
    const shown = Object.keys(first).filter((name) => first[name]);
    assert.ok(shown.length > (width > 600 ? 12 : 4), shown.join());
    for (const name of ['clay shed contact', 'hall keypad', 'workshop motion']) {
      await page.click(`#devices button:has-text("${name}")`);
      assert.deepEqual(stands(await labels(page)), stands(first), name);
    }
    // Zoomed in and out again, too.
    await page.click('#closer');
    assert.ok(isOnSheet(await labels(page)));
    await page.click('#fit');
    const before = stands(await labels(page));
    await changed(page, () => dragged(page, [0.6, 4.4], [3.4, 2.2]));
    const after = stands(await labels(page));
    const moved = Object.keys(before).filter((name) => before[name] !== after[name] && name !== 'hub');
    // Only words on which the hub was put make room for it.
    assert.ok(moved.length <= 2, moved.join());
    await undone(page, demo);
    await close();
  });
}

test('words cover no door where there is another place', async () => {
  const {page, close} = await opened(`site: Invented
radio: {frequency_mhz: 868.3}
reading: {zero_dbm: -105, full_dbm: -30, weak_below_percent: 40}
construction: solid brick
storeys:
  - name: ground
    height_m: 2.5
    rooms:
      hall: {rect_m: [0, 0, 6, 5]}
      shop: {rect_m: [6, 0, 6, 5]}
    openings:
      - {name: shop door, kind: inner door, between: [hall, shop], at_m: [6, 2.5]}
hubs:
  hub: {profile: hub, storey: ground, at_m: [0.4, 4.6], height_m: 2}
devices:
  keypad: {profile: keypad, storey: ground, at_m: [5.6, 2.5], height_m: 1.4}
`);
  const covers = await page.evaluate(() => {
    const box = document.querySelector('.radio.device .paper').getBoundingClientRect(), door = document.querySelector('.layer-openings line').getBoundingClientRect();
    return box.left < door.right && door.left < box.right && box.top < door.bottom && door.top < box.bottom;
  });
  assert.equal(covers, false);
  await close();
});

test('the map is lighter where it is stronger, in the colours of the report, with a scale, over all rooms and under the walls', async () => {
  assert.deepEqual(steps(0.4), [0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9]);
  const hex = (rgb) => `#${rgb.map((one) => one.toString(16).padStart(2, '0')).join('')}`;
  const starter = readFileSync(join(data, 'starter.yaml'), 'utf8');
  const report = reportOf(starter, 'en', 'armed');
  const weak = Number(/weak_below_percent: (\d+)/.exec(starter)[1]);
  for (const {rgb} of colours(weak / 100)) assert.ok(report.includes(hex(rgb)), `${hex(rgb)} is no colour of the report`);
  const light = ([r, g, b]) => 0.21 * r + 0.72 * g + 0.07 * b;
  const all = colours(0.4).map(({rgb}) => light(rgb));
  assert.ok(all.every((one, i) => i === 0 || one > all[i - 1]), all.join());

  for (const [locale, colorScheme] of [['en', 'light'], ['de', 'dark']]) {
    const {page, said, close} = await opened(demo, {locale, colorScheme});
    await page.check('#show-map');
    await page.waitForSelector('.layer-map image', {timeout: 60_000, state: 'attached'});
    assert.match(await page.textContent('#key'), locale === 'en' ? /The lighter, the stronger/ : /Je heller, desto stärker/);
    assert.deepEqual(await page.locator('#key text').allTextContents(), ['0 %', '40 %', '100 %']);
    assert.equal(await page.locator('#key rect').count(), 10);
    const isCovered = await page.evaluate(() => {
      const image = document.querySelector('.layer-map image').getBBox();
      return globalThis.linkmargin.sketch.here.rooms.flatMap(({corners}) => corners).every(
          ([x, y]) => x >= image.x && x <= image.x + image.width && -y >= image.y && -y <= image.y + image.height);
    });
    assert.ok(isCovered);
    // Walls stand on a line of another colour than they are.
    const [casing, wall] = await page.evaluate(() => ['.layer-casing line', '.layer-walls line'].map((one) => {
      const {stroke, display} = getComputedStyle(document.querySelector(one));
      return `${stroke} ${display}`;
    }));
    assert.notEqual(casing, wall);
    assert.equal(await page.evaluate(() => getComputedStyle(document.querySelector('.layer-casing')).display), 'inline');
    if (pictures) await page.screenshot({path: join(pictures, `map-${locale}-${colorScheme}.png`)});
    assert.deepEqual(said, []);
    await close();
  }
});

test('a reading counts no more where the hub or the device hangs elsewhere; taken back, it counts again; the plan marks it', async () => {
  for (const [locale, elsewhere] of [['en', 'read with the hub elsewhere: read again'], ['de', 'abgelesen, als die Zentrale woanders hing: neu ablesen']]) {
    const {page, close} = await opened(demo, {locale});
    const input = page.locator('input[data-device="shop shutter contact"]');
    await input.fill('22');
    await input.press('Enter');
    const outcome = () => page.evaluate(() => globalThis.linkmargin.sketch.checked?.devices.find(({device}) => device === 'shop shutter contact').outcome);
    await page.waitForFunction(() => globalThis.linkmargin.sketch.checked?.devices.find(({device}) => device === 'shop shutter contact').outcome === 'weak');
    assert.match((await labels(page))['shop shutter contact'].text, /22 %/);
    assert.ok(await page.isVisible('#read-sign'));
    const row = page.locator('#devices tr:has(input[data-device="shop shutter contact"])');
    assert.ok(!(await row.textContent()).includes(elsewhere));
    const text = await changed(page, () => dragged(page, [0.6, 4.4], [1.4, 4.2]));
    assert.ok((await row.textContent()).includes(elsewhere));
    assert.equal(await input.inputValue(), '22');
    assert.equal(await page.evaluate(() => globalThis.linkmargin.sketch.readingsCsv()), '');
    assert.notEqual(await outcome(), 'weak');
    sameFigures(await figuresOf(page), text);
    await undone(page, demo);
    assert.equal(await outcome(), 'weak');
    assert.match(await page.evaluate(() => globalThis.linkmargin.sketch.readingsCsv()), /"shop shutter contact",22/);
    await page.reload();
    await page.waitForSelector('html[data-ready]');
    await close();
  }
});

test('better places: off without a hub and a device, with the reason; gone with every change; said by room and wall', async () => {
  const {page, said, close} = await opened(null);
  const found = () => page.textContent('#places');
  assert.ok(await page.isDisabled('#search'));
  assert.match(await found(), /needs a hub and a device/);
  await close();

  const site = await opened(demo);
  const search = async () => {
    await site.page.click('#search');
    await site.page.waitForFunction(() => /grid of 2[.,]0 m/.test(document.getElementById('places').textContent), null, {timeout: 120_000});
  };
  await search();
  const text = await site.page.textContent('#places');
  assert.match(text, /hub: [a-z ]+ \((ground|upper)\), \d+\.\d m from its (left|right|top|bottom) wall and \d+\.\d m from its (left|right|top|bottom) wall, \d\.\d m up/);
  assert.doesNotMatch(text, /\bx \d/);
  const [, then, now] = text.match(/lowest chance then has (?:over )?(\d+) %; now it is (?:under )?(\d+) %/);
  const lowest = await site.page.evaluate(() => Math.min(...globalThis.linkmargin.sketch.checked.devices.map((one) => one.chance)));
  assert.ok(Math.abs(Number(now) - 100 * lowest) <= 1 && Number(then) >= Number(now));
  await changed(site.page, () => site.page.evaluate(() => globalThis.linkmargin.sketch.edit({set: {'/hubs/hub/height_m': 1.1}})));
  assert.equal(await site.page.textContent('#places'), '');
  await undone(site.page, demo);
  await search();
  await site.page.click('#new');
  await site.page.waitForFunction(() => globalThis.linkmargin.sketch.here.rooms.length === 0);
  assert.match(await site.page.textContent('#places'), /needs a hub and a device/);
  await site.page.selectOption('#language', 'de');
  await site.page.waitForFunction(() => /eine Zentrale und ein Gerät/.test(document.getElementById('places').textContent));
  assert.deepEqual([...said, ...site.said], []);
  await site.close();
});

test('advice speaks of the page: no option of the program, no key of the site file, in both languages', async () => {
  for (const [language, wanted] of [['en', [/set Doors at the top to open/, /fill in Metal behind it/]], ['de', [/oben Türen auf offen stellen/, /Metall dahinter ausfüllen/]]]) {
    const {page, close} = await opened(demo, {locale: language});
    const input = page.locator('input[data-device="workshop motion"]');
    await input.fill('22');
    await input.press('Enter');
    await page.waitForFunction(() => globalThis.linkmargin.sketch.readings.size === 1 && globalThis.linkmargin.sketch.checked);
    await page.click('#devices button:has-text("workshop motion")');
    await page.waitForFunction(() => document.querySelectorAll('#why p').length > 3, null, {timeout: 60_000});
    const text = await page.textContent('#why');
    for (const one of wanted) assert.match(text, one);
    assert.doesNotMatch(text, /--[a-z]|[a-z]_[a-z]|\(mount\)|site file|Anlagendatei|`/);
    await page.fill('#form [name=metal]', '0.02');
    assert.match(await changed(page, () => page.press('#form [name=metal]', 'Enter')), /workshop motion:[^\n]*mount: \{on: metal, gap_m: 0\.02\}/);
    await page.fill('#form [name=metal]', '');
    assert.equal(await changed(page, () => page.press('#form [name=metal]', 'Enter')), demo);
    await close();
  }
});

test('a fault shows the thing that it is about', async () => {
  const {page, close} = await opened(demo.replace(/(name: street door, [^}]*)width_m: [\d.]+/, '$1width_m: 9'));
  const show = page.locator('#faults button').first();
  assert.match(await show.textContent(), /^Show street door$/);
  assert.doesNotMatch(await page.textContent('#faults li'), /line \d/);
  await show.click();
  assert.equal(await page.textContent('#form h3'), 'street door');
  await close();
});

for (const [width, locale] of [[1280, 'en'], [1280, 'de'], [768, 'en'], [360, 'de']]) {
  test(`${width} px, ${locale}: nothing moves while a report is made`, async () => {
    const {page, close} = await opened(demo, {viewport: {width, height: 900}, locale});
    const places = () => page.evaluate(() => ['plan', 'report', 'doors', 'language', 'tasks'].map((id) => {
      const {left, top, width: wide, height} = document.getElementById(id).getBoundingClientRect();
      return [id, left, top, wide, height].join(' ');
    }));
    const before = await places();
    await page.click('#report');
    await page.waitForFunction(() => /\([1-9]\d* %\)/.test(document.getElementById('report').textContent), null, {timeout: 60_000});
    assert.deepEqual(await places(), before);
    await page.click('#report');
    assert.deepEqual(await places(), before);
    await close();
  });
}

test('the table of 40 devices grows with the page: a wheel over it moves the page', async () => {
  const {page, close} = await opened(randomSite(7, 40));
  assert.ok(await page.locator('.wide').evaluate((one) => one.scrollHeight <= one.clientHeight + 1));
  await page.locator('#devices tbody tr').nth(3).hover();
  const before = await page.evaluate(() => scrollY);
  await page.mouse.wheel(0, 300);
  await page.waitForFunction((from) => scrollY > from + 100, before);
  assert.ok(checked(await textOf(page)));
  await close();
});
