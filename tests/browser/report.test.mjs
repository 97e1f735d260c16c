// The report page in headless Chromium. LINKMARGIN names the program, CHROMIUM the browser (else
// /usr/bin/chromium), LINKMARGIN_PICTURES a folder where the pages are left as pictures to be looked at.
import {HtmlValidate} from 'html-validate';
import assert from 'node:assert/strict';
import {execFileSync} from 'node:child_process';
import {mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync} from 'node:fs';
import {createRequire} from 'node:module';
import {tmpdir} from 'node:os';
import {dirname, join} from 'node:path';
import {after, before, describe, test} from 'node:test';
import {fileURLToPath, pathToFileURL} from 'node:url';
import {chromium} from 'playwright-core';

const here = dirname(fileURLToPath(import.meta.url));
const data = join(here, '../../data/sites');
const program = process.env.LINKMARGIN;
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const folder = mkdtempSync(join(tmpdir(), 'linkmargin-page-'));
const pictures = process.env.LINKMARGIN_PICTURES;
if (pictures) mkdirSync(pictures, {recursive: true});

const run = (...words) =>
    execFileSync(program, words, {env: {...process.env, SOURCE_DATE_EPOCH: '1790000000'}, encoding: 'utf8', maxBuffer: 1e7});

const pages = {
  customer: [join(data, 'kiln-lane.yaml'), '--language', 'en'],
  file: [
    join(data, 'kiln-lane.yaml'),
    '--language',
    'en',
    '--for',
    'file',
    '--readings',
    join(data, 'kiln-lane-readings.csv'),
    '--cases',
    join(here, 'cases.yaml'),
    '--before',
    join(folder, 'before.yaml'),
    '--what-if',
    join(data, 'kiln-lane-what-if.yaml'),
  ],
  german: [join(data, 'kiln-lane.yaml'), '--language', 'de', '--cases', join(here, 'cases.yaml')],
  small: [join(data, 'corner-kiosk.yaml'), '--language', 'en'],
  hostile: [join(here, 'hostile.yaml'), '--language', 'de', '--for', 'file'],
};
const sites = [join(data, 'kiln-lane.yaml'), join(here, 'hostile.yaml'), join(data, 'corner-kiosk.yaml')];
const indexes = {'sites/index': 'en', 'anlagen/index': 'de'};
const place = (name) => join(folder, `${name}.html`);

let browser;
before(async () => {
  const demo = readFileSync(join(data, 'kiln-lane.yaml'), 'utf8');
  const moved = demo.replace('at_m: [0.6, 4.4]', 'at_m: [0.6, 0.6]');
  assert.notEqual(moved, demo);
  writeFileSync(join(folder, 'before.yaml'), moved);
  for (const [name, words] of Object.entries(pages)) run('report', ...words, '--output', place(name));
  for (const [name, language] of Object.entries(indexes))
    run('report', ...sites, '--language', language, '--output', dirname(place(name)));
  browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox'],
  });
});
after(async () => {
  await browser?.close();
  rmSync(folder, {recursive: true});
});

/** Opens a page; what it asked for and what it said on the console is kept. */
async function opened(name, options = {}) {
  const context = await browser.newContext({viewport: {width: 1280, height: 900}, ...options});
  const page = await context.newPage();
  const asked = [], said = [];
  page.on('request', (request) => asked.push(request.url()));
  page.on('console', (message) => said.push(message.text()));
  page.on('pageerror', (error) => said.push(error.message));
  await page.goto(pathToFileURL(place(name)).href);
  return {page, asked, said, close: () => context.close()};
}

/** In the page: words of drawings that lie over each other or leave their drawing. */
function misplacedWords(selector) {
  const slack = 2;  // letters stand closer than their boxes
  const found = [];
  const drawings = document.querySelectorAll(selector);
  for (const drawing of drawings) {
    const sheet = drawing.getBoundingClientRect();
    const words =
        [...drawing.querySelectorAll('text')].map((text) => ({says: text.textContent, box: text.getBoundingClientRect()}));
    words.forEach((one, i) => {
      if (one.box.left < sheet.left - slack || one.box.right > sheet.right + slack || one.box.top < sheet.top - slack ||
          one.box.bottom > sheet.bottom + slack) {
        found.push(`${one.says} leaves its drawing`);
      }
      for (const other of words.slice(i + 1)) {
        const wide = Math.min(one.box.right, other.box.right) - Math.max(one.box.left, other.box.left);
        const high = Math.min(one.box.bottom, other.box.bottom) - Math.max(one.box.top, other.box.top);
        if (wide > slack && high > slack + 0.15 * one.box.height) found.push(`${one.says} over ${other.says}`);
      }
    });
  }
  return {drawings: drawings.length, found};
}

for (const name of [...Object.keys(pages), ...Object.keys(indexes)]) {
  describe(`page ${name}`, () => {
    test('asks for nothing and says nothing on the console', async () => {
      const {page, asked, said, close} = await opened(name);
      await page.mouse.move(640, 450);
      assert.deepEqual(asked.filter((url) => !url.startsWith('data:')), [pathToFileURL(place(name)).href]);
      assert.deepEqual(said, []);
      await close();
    });

    for (const colorScheme of ['light', 'dark']) {
      for (const width of [360, 1280]) {
        test(
            `no violation of accessibility, ${colorScheme}, ${width} px; nothing is wider than the page`,
            async () => {
              const {page, close} = await opened(name, {colorScheme, viewport: {width, height: 900}});
              assert.equal(await page.evaluate(() => document.documentElement.scrollWidth), width);
              const wide = await page.evaluate(
                  () => [...document.querySelectorAll('main *')]
                            .filter((part) => {
                              if (part.closest('.map-frame, .table-frame, svg') || part.closest('[hidden]'))
                                return false;
                              return part.getBoundingClientRect().right > innerWidth + 0.5;
                            })
                            .map((part) => part.outerHTML.slice(0, 80)));
              assert.deepEqual(wide, []);
              await page.evaluate(() => document.querySelectorAll('details').forEach((part) => {
                part.open = true;
              }));
              await page.evaluate(axe);
              const found =
                  await page.evaluate(() => globalThis.axe.run(document, {resultTypes: ['violations']}));
              assert.deepEqual(
                  found.violations.map((one) => `${one.id}: ${one.nodes[0].html.slice(0, 120)}`), []);
              if (pictures) {
                await page.screenshot(
                    {path: join(pictures, `${name.replace('/', '-')}-${colorScheme}-${width}.png`), fullPage: true});
              }
              await close();
            });
      }
    }

    test('is valid HTML', async () => {
      const report = await new HtmlValidate({
                       extends: ['html-validate:recommended'],
                       rules: {
                         'long-title': 'off',  // as long as the site's name
                         'no-inline-style': 'error',
                         'no-trailing-whitespace': 'off',
                         'void-style': 'off',
                       },
                     }).validateFile(place(name));
      assert.deepEqual(
          report.results.flatMap(
              (one) => one.messages.map((m) => `${m.line}:${m.column} ${m.ruleId} ${m.message}`)),
          []);
    });

    test('on paper nothing is cut off', async () => {
      const {page, close} = await opened(name, {viewport: {width: 688, height: 1000}});  // A4 less margins
      await page.emulateMedia({media: 'print'});
      await page.evaluate(() => dispatchEvent(new Event('beforeprint')));
      const cut = await page.evaluate(
          () => [...document.querySelectorAll('main svg, main table')]
                    .filter((part) => {
                      if (part.closest('[hidden]') || !part.checkVisibility()) return false;
                      const box = part.getBoundingClientRect();
                      return box.right > 688.5 || box.left < -0.5 ||
                          (part.matches('figure svg') && box.height > 1000);
                    })
                    .map((part) => part.outerHTML.slice(0, 100)));
      assert.deepEqual(cut, []);
      const file = join(folder, `${name}.pdf`);
      await page.pdf({path: file, preferCSSPageSize: true});
      const words = execFileSync('pdftotext', ['-layout', file, '-'], {encoding: 'utf8'});
      assert.match(words, /linkmargin \d+\.\d+/);
      if (pictures) execFileSync('pdftoppm', ['-r', '60', '-png', file, join(pictures, `${name.replace('/', '-')}-paper`)]);
      await close();
    });
  });
}

for (const name of Object.keys(pages)) {
  describe(`plans of ${name}`, () => {
    test('all of it is there without scripts', async () => {
      const {page, close} = await opened(name, {javaScriptEnabled: false});
      const shown = await page.locator('.maps .map').count();
      assert.ok(shown >= 1);
      for (const map of await page.locator('.maps .map').all()) assert.ok(await map.isVisible());
      assert.equal(await page.locator('.controls').isVisible(), false);
      for (const card of await page.locator('.card .why').all()) assert.ok(await card.isVisible());
      await page.locator('.more-maps summary').click();
      for (const map of await page.locator('.more-maps .map').all()) assert.ok(await map.isVisible());
      await close();
    });

    test('no words of a drawing lie over each other, none leave it', async () => {
      const {page, close} = await opened(name, {javaScriptEnabled: true});
      await page.evaluate(() => {
        document.querySelectorAll('details').forEach((part) => { part.open = true; });
        document.querySelectorAll('.map').forEach((part) => { part.hidden = false; });
      });
      const {drawings, found} = await page.evaluate(misplacedWords, 'svg.plan, svg.way, .chart svg');
      assert.ok(drawings >= 3);
      assert.deepEqual(found, []);
      await close();
    });
  });
}

describe('the index', () => {
  test('leads to the page of each site', async () => {
    const {page, close} = await opened('sites/index');
    const links = page.locator('.sites a');
    assert.equal(await links.count(), sites.length);
    for (let i = 0; i < sites.length; ++i) {
      const site = await links.nth(i).innerText();
      await links.nth(i).click();
      assert.equal(await page.locator('h1').innerText(), site);
      await page.goBack();
    }
    assert.equal(await page.evaluate(() => globalThis.hacked), undefined);
    assert.equal(await page.locator('img, script, link').count(), 0);
    await close();
  });
});

describe('the script', () => {
  test('one map at a time, by mouse and by keys', async () => {
    const {page, close} = await opened('customer');
    const shown = () => page.evaluate(
        () => [...document.querySelectorAll('.map')]
                  .filter((map) => !map.hidden)
                  .map((map) => [map.dataset.storey, map.dataset.doors, map.dataset.value].join(' ')));
    assert.deepEqual(await shown(), ['0 armed reading']);
    await page.locator('label[for=\'storey-1\']').click();
    assert.deepEqual(await shown(), ['1 armed reading']);
    await page.locator('#doors-armed').focus();
    await page.keyboard.press('ArrowRight');
    assert.deepEqual(await shown(), ['1 open reading']);
    await page.keyboard.press('Tab');
    await page.keyboard.press('ArrowRight');
    assert.deepEqual(await shown(), ['1 open chance']);
    await close();
  });

  test('a device under the pointer is pointed out with its way and why', async () => {
    const {page, close} = await opened('customer');
    const spot = page.locator('.map:not([hidden]) .spot[href=\'#device-2\']');
    await spot.hover();
    assert.equal(
        await page.locator('.map:not([hidden]) .lit-way.lit').getAttribute('data-device'), 'device-2');
    assert.match(await page.locator('.pointed').innerText(), /garage door contact: It is \d+\.\d\sm\sfrom/);
    await page.keyboard.press('Escape');
    assert.equal(await page.locator('.lit-way.lit').count(), 0);
    assert.equal(await page.locator('.pointed').isVisible(), false);
    await close();
  });

  test('a tap points out, a second one leads to the card', async () => {
    const {page, close} = await opened('customer', {hasTouch: true, viewport: {width: 1000, height: 800}});
    const spot = page.locator('.map:not([hidden]) .spot[href=\'#device-2\']');
    await spot.tap();
    assert.equal(await page.locator('.map:not([hidden]) .lit-way.lit').count(), 1);
    assert.equal(await page.evaluate(() => location.hash), '');
    await spot.tap();
    assert.equal(await page.evaluate(() => location.hash), '#device-2');
    await close();
  });

  const figures = (page) => page.evaluate(
      () => Object.fromEntries([...document.querySelectorAll('.table-frame tr[data-device]')].map(
          (row) => [row.querySelector('a').textContent.trim(),
                    [...row.querySelectorAll('td')].slice(0, 2).map((cell) => cell.textContent)])));
  const spotFigure = (page, name) => page.locator(`.map:not([hidden]) .spot[aria-label^="${name}"]`).getAttribute('aria-label');

  /// What `check` says of the demo with the hub at a place, as the page words it.
  const checked = (at, storey, height) => {
    const site = join(folder, 'tried.yaml');
    const demo = readFileSync(join(data, 'kiln-lane.yaml'), 'utf8')
                     .replace('storey: ground\n    at_m: [0.6, 4.4]\n    height_m: 2.0',
                              `storey: ${storey}\n    at_m: [${at}]\n    height_m: ${height}`)
                     .replace('    may_move: {within: shop}\n', '');
    writeFileSync(site, demo);
    const text = JSON.parse(run('check', site, '--format', 'json'));
    return Object.fromEntries(text.links.map((link) => [link.device, link]));
  };

  test('a hub is tried at another place by mouse, keys and finger, as check has it', async () => {
    const {page, close} = await opened('customer', {viewport: {width: 1280, height: 1000}});
    const planned = await figures(page);
    const verdict = await page.locator('header .verdict').innerText();
    const hub = page.locator('.map:not([hidden]) [data-station="hub"]');
    await hub.scrollIntoViewIfNeeded();
    const box = await hub.boundingBox();
    const start = {x: box.x + box.width / 2, y: box.y + box.height / 2};
    await page.mouse.move(start.x, start.y);
    await page.mouse.down();
    await page.mouse.move(start.x + 30, start.y - 20, {steps: 6});
    await page.mouse.up();
    const hash = await page.evaluate(() => location.hash);
    assert.match(hash, /^#try=0\.\d+$/);
    const told = await page.locator('.tried').innerText();
    assert.match(told, /clay shed contact: \d+\s%.*\. Chance .*\. .*Nine in ten between \d+ and \d+\s%\./);
    const [, room, height, x, y] = /place: (.*?) \((?:ground|upper)\),.* ([\d.]+) m up, at \(([-\d.]+), ([-\d.]+)\)/.exec(told);
    assert.ok(room);
    const figuresThen = await figures(page);
    const links = checked(`${x}, ${y}`, /\(ground\)/.test(told) ? 'ground' : 'upper', height);
    for (const [device, [reading, chance]] of Object.entries(figuresThen)) {
      const link = links[device.replace(/^\S*\s/, '')] ?? links[device];
      assert.ok(link, device);
      // the place is told to the centimetre
      assert.ok(Math.abs(parseInt(reading) - link.reading_percent) <= 1, `${device}: ${reading} ${link.reading_percent}`);
      const said = chance.startsWith('under') ? 0 : chance.startsWith('over') ? 100 : parseInt(chance);
      assert.ok(Math.abs(said - 100 * link.pass_probability) <= 2, `${device}: ${chance} ${link.pass_probability}`);
    }
    assert.match(await spotFigure(page, 'clay shed contact'), new RegExp(`${parseInt(figuresThen['clay shed contact'][0])} %`));
    await page.locator('.map:not([hidden]) .map-frame').focus();
    await page.keyboard.press('ArrowRight');
    const kept = await page.evaluate(() => location.hash);
    assert.notEqual(kept, hash);
    const byKeys = await figures(page);
    await page.keyboard.press('Escape');
    assert.deepEqual(await figures(page), planned);
    assert.equal(await page.locator('header .verdict').innerText(), verdict);
    // what the address line keeps is what is shown
    await page.goto(page.url().replace(/#.*/, '') + kept);
    await page.reload();
    assert.deepEqual(await figures(page), byKeys);
    await close();
    const touch = await opened('customer', {hasTouch: true, viewport: {width: 1000, height: 900}});
    await touch.page.locator('label[for="trial-r0"]').tap();
    await touch.page.locator('.map:not([hidden]) .places').first().scrollIntoViewIfNeeded();
    const spot = await touch.page.evaluate(() => {
      const path = document.querySelector('.map:not([hidden]) .places');
      const [x, y] = /M([\d.-]+) ([\d.-]+)/.exec(path.getAttribute('d')).slice(1).map(Number);
      const at = new DOMPoint(x + 2.5, y).matrixTransform(path.getScreenCTM());
      window.scrollBy(0, at.y - 400);
      const now = new DOMPoint(x + 2.5, y).matrixTransform(path.getScreenCTM());
      return {x: now.x, y: now.y};
    });
    await touch.page.touchscreen.tap(spot.x, spot.y);
    assert.match(await touch.page.evaluate(() => location.hash), /^#try=0\.\d+$/);
    await touch.close();
  });

  /// Middles of symbols on the plan that is shown.
  const middle = (page, selector) => page.locator(`.map:not([hidden]) ${selector}`).evaluate((part) => {
    const box = part.getBoundingClientRect();
    return [Math.round(box.x + box.width / 2), Math.round(box.y + box.height / 2)];
  });
  const onPlan = async (page, selector) => {
    const corner = await page.locator('.map:not([hidden]) svg.plan').evaluate((svg) => [svg.getBoundingClientRect().x, svg.getBoundingClientRect().y]);
    return (await middle(page, selector)).map((at, i) => at - corner[i]);
  };
  const near = (one, other) => Math.hypot(one[0] - other[0], one[1] - other[1]) <= 2;

  test('while a place is tried, all says so that is of it, and nothing keeps figures of another', async () => {
    const {page, close} = await opened('customer');
    const cells = () => page.evaluate(() => [...document.querySelectorAll('.table-frame tr[data-device]')].map(
        (row) => [...row.querySelectorAll('td')].map((cell) => cell.textContent)));
    const planned = await cells();
    assert.ok(planned.some((row) => row.length === 4));
    const caption = await page.locator('.map:not([hidden]) figcaption').innerText();
    await page.locator('label[for="doors-open"]').click();
    await page.locator('label[for="trial-r0"]').click();
    // doors as the figures have them, and no way to others
    for (const doors of ['armed', 'open']) assert.ok(await page.locator(`#doors-${doors}`).isDisabled());
    assert.ok(await page.locator('#doors-armed').isChecked());
    assert.equal(await page.locator('.why-off').innerText(), 'not while trying');
    assert.deepEqual(await cells(), planned);
    assert.match(await page.locator('.tried').innerText(), /arrow keys/);
    for (let i = 0; i < 6; ++i) await page.keyboard.press('ArrowRight');  // the press left the plan in focus
    assert.match(await page.evaluate(() => location.hash), /^#try=0\.\d+$/);
    assert.match(
        await page.locator('header .verdict').innerText(),
        /^Tried, not as planned: hub at another place, .*of 18 devices.*The other \d+ are good\./);
    assert.match(await page.locator('.tried').innerText(), /With all doors closed/);
    assert.match(await page.locator('.map:not([hidden]) figcaption').innerText(), /all doors closed.*Figures: as tried/);
    assert.match(await page.locator('#todo .planned-only').innerText(), /as planned, not for what is tried/);
    const tried = await cells();
    for (const row of tried) assert.deepEqual(row.slice(2), row.slice(2).map(() => '\u2013'));
    const changed = tried.map((row, i) => [row[0].match(/^(\d+)\s%, was (\d+)\s%$/), planned[i][0]]).filter(([was]) => was);
    assert.ok(changed.length > 0);
    for (const [was, before] of changed) assert.equal(was[2], String(parseInt(before)));
    await page.locator('tr[data-device="device-1"]').hover();
    assert.equal(await page.locator('.pointed').isVisible(), false);  // its words are of the plan
    // from anywhere
    await page.evaluate(() => document.activeElement.blur());
    await page.keyboard.press('Escape');
    assert.deepEqual(await cells(), planned);
    assert.equal(await page.locator('.map:not([hidden]) figcaption').innerText(), caption);
    assert.equal(await page.locator('#todo .planned-only').isVisible(), false);
    assert.ok(await page.locator('#doors-open').isEnabled());
    await close();
  });

  test('the symbol goes with what is tried, to another storey too, and arrow keys move it on', async () => {
    const {page, close} = await opened('customer', {viewport: {width: 1280, height: 1000}});
    const hub = page.locator('.map:not([hidden]) [data-station="hub"]');
    await hub.scrollIntoViewIfNeeded();
    const start = await middle(page, '[data-station="hub"]'), home = await onPlan(page, '[data-station="hub"]');
    await page.mouse.move(...start);
    await page.mouse.down();
    await page.mouse.move(start[0] + 30, start[1] - 20, {steps: 6});
    await page.mouse.up();
    const dragged = await page.evaluate(() => location.hash);
    assert.ok(near(await middle(page, '[data-station="hub"]'), await middle(page, '.moved')));
    assert.ok(near(await middle(page, '.left-place'), start));
    await page.keyboard.press('ArrowUp');
    const stepped = await page.evaluate(() => location.hash);
    assert.match(stepped, /^#try=0\.\d+$/);
    assert.notEqual(stepped, dragged);
    assert.ok(await page.locator('#trial-r0').isChecked());
    await page.locator('label[for="storey-1"]').click();
    assert.equal(await page.locator('.map:not([hidden]) [data-station="hub"]').count(), 0);
    await page.locator('.map:not([hidden]) .map-frame').focus();
    await page.keyboard.press('ArrowRight');
    assert.ok(near(await middle(page, '[data-station="hub"]'), await middle(page, '.moved')));
    assert.equal(await page.locator('.map:not([hidden]) [data-station-name="hub"]').count(), 1);
    await page.locator('label[for="storey-0"]').click();
    assert.equal(await page.locator('.map:not([hidden]) [data-station="hub"]').isVisible(), false);
    assert.ok(near(await onPlan(page, '.left-place'), home));
    await page.keyboard.press('Escape');
    assert.ok(near(await onPlan(page, '[data-station="hub"]'), home));
    await close();
  });

  test('a device that is received elsewhere says so, and why reading and chance part', async () => {
    const {page, close} = await opened('customer');
    const found = await page.evaluate(() => {
      const data = JSON.parse(document.getElementById('trials').textContent);
      const bytes = (text) => Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
      const planned = bytes(data.figures), size = planned.length;
      for (const [radio, one] of data.radios.entries()) {
        if (one.device >= 0) continue;
        const tried = bytes(one.figures);
        for (let place = 0; place < one.places.length; ++place) {
          for (let device = 0; device < data.devices.length; ++device) {
            const [was, now] = [planned.subarray(6 * device), tried.subarray(place * size + 6 * device)];
            if (was[4] === 0 || was[5] === now[5] || (now[0] - was[0]) * (now[3] - was[3]) >= 0) continue;
            return {hash: `#try=${radio}.${place}`, name: data.names[device], hubs: [data.stations[now[5]], data.stations[was[5]]]};
          }
        }
      }
    });
    assert.ok(found);
    await page.goto(page.url() + found.hash);
    const line = await page.locator('.tried li', {hasText: `${found.name}:`}).innerText();
    assert.ok(line.includes(`Received by ${found.hubs[0]}, was ${found.hubs[1]}`), line);
    assert.match(line, /the chance counts the whole way to the hub/);
    await close();
  });

  test('a repeater to be added stands on the plan of its storey with its stop, and all signs have a key', async () => {
    const {page, close} = await opened('customer');
    assert.match(await page.locator('.todo > li').first().innerText(), /^repeater 1 \(new\): loft \(upper\)/);
    assert.equal(await page.locator('.map[data-storey="0"] .planned').count(), 0);
    await page.locator('label[for="storey-1"]').click();
    assert.equal(await page.locator('.map:not([hidden]) .planned text').innerHTML(), '1');
    assert.match(await page.locator('.map:not([hidden]) svg').innerHTML(), />repeater 1 \(new\)</);
    const key = await page.locator('.key li').allInnerTexts();
    for (const words
             of [/at the stop of this number/, /^thick stone/, /^door/, /hatched: reads under 40/, /^thin dashes/, /^dashed frame/,
                 /^path of the device/, /^from the repeater on/]) {
      assert.ok(key.some((line) => words.test(line)), String(words));
    }
    assert.equal(await page.locator('.key li svg').count(), key.length);
    await close();
  });

  test('the first screen says why a device is doubtful, what to do says its aim, and a shared stop names all it serves', async () => {
    const {page, close} = await opened('customer');
    const doubt = await page.locator('header .doubt').innerText();
    const card = page.locator('#device-2');
    assert.equal(
        doubt.replace(/\s/g, ' '),
        `garage door contact is doubtful: it should read ${await card.getAttribute('data-reading')} %, but the chance of the 40 % ` +
            `needed is only ${await card.getAttribute('data-chance')} in 100. Good means 90 in 100.`);
    const todo = await page.locator('#todo').innerText();
    assert.match(todo, /The aim: once all stops are done, each reads 40\s% or more/);
    assert.match(await page.locator('.todo > li').first().innerText(), /clay shed contact is finished at its own stop\./);
    await close();
  });

  test('words are explained where they first come, and losses have one unit', async () => {
    for (const [name, words] of [
           ['customer', [/A repeater receives devices/, /To enrol a device is/, /Doubtful means/]],
           ['german', [/Ein Repeater empfängt/, /Ein Gerät anmelden heißt/, /Unsicher heißt/]],
         ]) {
      const {page, close} = await opened(name);
      const shown = await page.locator('body').innerText();
      for (const word of words) assert.match(shown, word);
      assert.match(await page.locator('header').innerText(), words[0]);
      assert.match(await page.locator('#todo').innerText(), words[1]);
      assert.doesNotMatch(shown, /\bpoints?\b|\bPunkte\b|its standard|\bNorm\b|along its mount|another place of|focus the plan/);
      assert.match(await page.locator('#device-1 .fall thead').innerText(), /% (of the scale|der Skala)/);
      await close();
    }
  });

  test('chances have a scale of their own with its line at the chance needed', async () => {
    const {page, close} = await opened('customer');
    const line = (value) => page.locator(`.scale-of[data-value="${value}"] svg > line`).last().getAttribute('x1');
    assert.equal(await line('reading'), '128');  // of 320
    assert.equal(await line('chance'), '288');
    assert.ok(await page.locator('.scale-of[data-value="reading"]').isVisible());
    assert.equal(await page.locator('.scale-of[data-value="chance"]').isVisible(), false);
    await page.locator('label[for="value-chance"]').click();
    assert.ok(await page.locator('.scale-of[data-value="chance"]').isVisible());
    assert.equal(await page.locator('.scale-of[data-value="reading"]').isVisible(), false);
    await close();
  });

  test('what is said of the distance agrees with where the losses begin', async () => {
    const {page, close} = await opened('customer');
    const card = page.locator('#device-1');
    assert.match(await card.locator('.why').innerText(), /The distance weakens the signal most\. Apart from it the .* costs most\./);
    assert.match(await card.locator('.fall caption').innerText(), /far above 100\s%/);
    assert.match(await card.locator('.fall tbody th').first().innerText(), /^left after [\d.]+\sm of distance$/);
    await close();
  });

  const inSight = (locator) => locator.evaluate((part) => {
    const box = part.getBoundingClientRect();
    return box.top >= -1 && box.bottom <= innerHeight + 1 && box.left >= -1 && box.right <= innerWidth + 1;
  });

  test('a screen of 1280 x 800 has a plan that can be read, and what comes of a try-out beside it', async () => {
    const {page, close} = await opened('customer', {viewport: {width: 1280, height: 800}});
    const plan = await page.locator('.map:not([hidden]) svg.plan').evaluate((svg) => {
      const box = svg.getBoundingClientRect();
      return {wide: box.width, top: box.top, name: 11 * box.width / svg.viewBox.baseVal.width};  // names have 11
    });
    assert.ok(plan.wide > 800 && plan.top < 380, JSON.stringify(plan));
    assert.ok(plan.name > 9.5, JSON.stringify(plan));
    await page.locator('label[for="trial-r0"]').click();
    await page.keyboard.press('ArrowRight');
    assert.ok(await inSight(page.locator('.tried')));
    await close();
  });

  test('on a phone the plan comes before what to do, says that it slides, and shows what is pressed', async () => {
    const {page, close} = await opened('customer', {hasTouch: true, viewport: {width: 360, height: 740}});
    const top = (selector) => page.locator(selector).first().evaluate((part) => part.getBoundingClientRect().top);
    assert.ok(await top('.map') < await top('#todo'));
    assert.ok(await page.locator('.slides').isVisible());
    await page.locator('label[for="trial-r1"]').tap();  // on the storey above
    assert.ok(await page.locator('#storey-1').isChecked());
    assert.ok(await inSight(page.locator('.map:not([hidden]) [data-station="landing repeater"]')));
    await page.keyboard.press('ArrowLeft');
    assert.match(await page.evaluate(() => location.hash), /^#try=1\.\d+$/);
    assert.ok(await inSight(page.locator('.tried')));
    await close();
    const wide = await opened('customer');
    assert.equal(await wide.page.locator('.slides').isVisible(), false);
    await wide.close();
  });

  test('nothing moves when the pointer rests on a line of the table', async () => {
    const {page, close} = await opened('customer');
    const row = page.locator('#overview tr[data-device="device-9"]');
    await row.scrollIntoViewIfNeeded();
    const at = () => row.evaluate((part) => [part.getBoundingClientRect().top, document.documentElement.scrollHeight]);
    const before = await at();
    await row.hover();
    assert.ok(await page.locator('.pointed').isVisible());
    assert.deepEqual(await at(), before);
    await page.locator('#overview h2').hover();
    assert.equal(await page.locator('.pointed').isVisible(), false);
    await close();
  });

  test('places that can be tried lie under names', async () => {
    const {page, close} = await opened('customer');
    await page.locator('label[for="trial-r0"]').click();
    const over = await page.evaluate(() => {
      const dots = document.querySelector('.map:not([hidden]) .places');
      return [...document.querySelectorAll('.map:not([hidden]) .label, .map:not([hidden]) [data-station-name]')].filter(
          (name) => !(dots.compareDocumentPosition(name) & Node.DOCUMENT_POSITION_FOLLOWING)).length;
    });
    assert.equal(over, 0);
    await close();
  });

  test('a case is shown on the plan', async () => {
    const {page, close} = await opened('file');
    await page.locator('label[for="trial-c1"]').click();
    assert.match(await page.locator('.tried').innerText(), /hub by the workshop wall/);
    const row = await page.locator('#cases tbody tr').nth(2).innerText();
    const weakest = /(\d+)\s%/.exec(row)[1];
    const readings = Object.values(await figures(page)).map(([reading]) => parseInt(reading));
    assert.equal(Math.min(...readings), Number(weakest));
    await close();
  });

  test('a step of a drag is drawn within a frame', async () => {
    const {page, close} = await opened('customer', {viewport: {width: 1280, height: 900}});
    await page.locator('label[for="trial-r0"]').click();
    const each = await page.evaluate(() => {
      const frame = document.querySelector('.map:not([hidden]) .map-frame');
      frame.dispatchEvent(new KeyboardEvent('keydown', {key: 'ArrowRight', bubbles: true}));
      const from = performance.now();
      for (let i = 0; i < 20; ++i)
        frame.dispatchEvent(new KeyboardEvent('keydown', {key: i % 2 ? 'ArrowRight' : 'ArrowUp', bubbles: true}));
      return (performance.now() - from) / 20;
    });
    console.log(`one step: ${each.toFixed(1)} ms`);
    assert.ok(each < 100, `${each} ms`);  // on a busy machine; measured values stand in the notes
    await close();
  });

  test('a thing in the way and its line are pointed out together', async () => {
    const {page, close} = await opened('customer');
    const card = page.locator('#device-2');
    await card.locator("tr[data-step='2']").hover();
    assert.equal(await card.locator(".met.lit").getAttribute('data-step'), '2');
    await card.locator(".met[data-step='3']").hover();
    assert.equal(await card.locator('tr.lit').getAttribute('data-step'), '3');
    assert.equal(await page.locator('.met.lit').count(), 1);
    await close();
  });

  test('keys reach every device of the map and its card', async () => {
    const {page, close} = await opened('customer');
    await page.locator('.map:not([hidden]) .map-frame').focus();
    const reached = new Set();
    for (let i = 0; i < 30; ++i) {
      await page.keyboard.press('Tab');
      const id = await page.evaluate(() => {
        const at = document.activeElement.closest('.spot, [data-station]');
        return at?.dataset.station ?? at?.getAttribute('href');
      });
      if (!id) break;
      if (id.startsWith('#')) reached.add(id);
    }
    assert.equal(reached.size, await page.locator('.map:not([hidden]) .spot').count());
    await page.locator('.map:not([hidden]) .spot[href=\'#device-3\']').focus();
    await page.keyboard.press('Enter');
    assert.equal(await page.evaluate(() => location.hash), '#device-3');
    assert.ok(await page.locator('#device-3 details.ways').evaluate((part) => part.open));
    await close();
  });
});

describe('names of every kind', () => {
  test('are shown as text', async () => {
    const {page, close} = await opened('hostile');
    assert.equal(await page.evaluate(() => globalThis.hacked), undefined);
    assert.equal(await page.locator('img, iframe, object, embed, link, main script').count(), 0);
    assert.equal(await page.locator('h1').innerText(), '</script><img src=x onerror="hacked=1"> & \'Söhne\'');
    const names = await page.locator('.card h3').allInnerTexts();
    for (const name
             of ['=1+1', '+49 {device} {percent}', '@sum <b>x</b>', '-front\' onmouseover=\'hacked=1',
                 'كاشف الحركة (1)', '🚒 <i>🔥</i>']) {
      assert.ok(names.some((shown) => shown.trim() === name), name);
    }
    assert.equal(await page.locator('b, i').count(), 0);
    await close();
  });
});

describe('the other pictures', () => {
  test('SVG of draw and coverage is well-formed, no words lie over each other', async () => {
    const page = await (await browser.newContext()).newPage();
    for (const site of [join(data, 'kiln-lane.yaml'), join(here, 'hostile.yaml')]) {
      for (const command of ['draw', 'coverage']) {
        const file = join(folder, `${command}.svg`);
        run(command, site, '--output', file);
        execFileSync('xmllint', ['--noout', '--nonet', file]);
        await page.goto(pathToFileURL(file).href);
        assert.deepEqual(await page.evaluate(misplacedWords, 'svg'), {drawings: 1, found: []});
      }
    }
    await page.context().close();
  });

  test('same input, same bytes, whatever the threads', () => {
    const first = run('report', ...pages.small, '--threads', '1');
    assert.equal(run('report', ...pages.small, '--threads', '3'), first);
    assert.match(first, /2026-09-21/);
    assert.equal(
        Buffer.compare(Buffer.from(run('report', ...pages.customer)), readFileSync(place('customer'))), 0);
  });

  test('the demo page stays under 1.5 MB', () => {
    assert.ok(readFileSync(place('customer')).length < 1.5e6);
    assert.ok(readFileSync(place('file')).length < 1.5e6);
  });
});
