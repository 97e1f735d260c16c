// The page in headless Firefox (firefox.mjs): what a browser decides, figures, pointer, keys, workers, is as in Chromium.
import assert from 'node:assert/strict';
import {readFileSync, rmSync} from 'node:fs';
import {loadavg} from 'node:os';
import {join} from 'node:path';
import {after, before, test} from 'node:test';
import {pathToFileURL} from 'node:url';
import {Firefox} from './firefox.mjs';
import {checked, data, folder, pageWith, randomSite, reportOf, sameFigures, spread} from './support.mjs';

const demo = readFileSync(join(data, 'sites/kiln-lane.yaml'), 'utf8');
const TAB = '\uE004', ENTER = '\uE007';

let firefox;
before(async () => { firefox = await Firefox.launch(); });
after(async () => {
  await firefox?.close();
  rmSync(folder, {recursive: true});
});

async function opened(text) {
  const page = await firefox.open(pathToFileURL(pageWith(text)).href);
  await page.until(() => document.documentElement.dataset.ready !== undefined);
  return page;
}

const textOf = (page) => page.evaluate(() => globalThis.linkmargin.sketch.text);
const figuresOf = (page) => page.evaluate(() => globalThis.linkmargin.sketch.checked?.devices ?? null);
const place = (page, at) => page.evaluate((where) => globalThis.linkmargin.view.onScreen(where), at);
const settled = (page, text) => page.until(
    (before) => globalThis.linkmargin.sketch.text !== before && globalThis.linkmargin.sketch.shownText === globalThis.linkmargin.sketch.text, text);

async function dragged(page, from, to) {
  const [x1, y1] = await place(page, from), [x2, y2] = await place(page, to);
  await page.pointer([['move', x1, y1], ['down'], ['move', (x1 + x2) / 2, (y1 + y2) / 2], ['move', x2, y2], ['up']], 60);
}

test('the demo has the program\'s figures; the hub is dragged, undone; a reading decides; the map is painted', async () => {
  const page = await opened(demo);
  sameFigures(await figuresOf(page), demo);
  await dragged(page, [0.6, 4.4], [5.2, 0.8]);
  await settled(page, demo);
  const text = await textOf(page);
  const lines = demo.split('\n');
  assert.equal(text.split('\n').filter((line, i) => line !== lines[i]).length, 1);
  sameFigures(await figuresOf(page), text);
  await page.evaluate(() => document.getElementById('undo').click());
  await page.until((before) => globalThis.linkmargin.sketch.shownText === before, demo);
  await page.evaluate(() => {
    document.getElementById('show-map').click();
    const input = document.querySelector('input[data-device="workshop motion"]');
    input.value = '22';
    input.dispatchEvent(new Event('change'));
  });
  await page.until(() => globalThis.linkmargin.sketch.checked?.devices.find(({device}) => device === 'workshop motion').outcome === 'weak');
  await page.until(() => document.querySelector('.layer-map image') !== null);
  await page.close();
});

test('rooms drawn by pointer, typed while drawn, and corner by corner', async () => {
  const page = await opened(null);
  await page.evaluate(() => document.getElementById('new').click());
  await page.until(() => globalThis.linkmargin.sketch.storeyNames.length === 1 && globalThis.linkmargin.sketch.here.rooms.length === 0);
  await page.evaluate(() => {
    document.querySelector('input[value=room]').click();
    globalThis.linkmargin.view.view = [-2, -10, 16, 12];
    globalThis.linkmargin.view.show();
    globalThis.linkmargin.tells = [];
    addEventListener('error', ({message}) => globalThis.linkmargin.tells.push(message));
  });
  const changed = async (act) => {
    const before = await textOf(page);
    await act();
    await settled(page, before);
    return textOf(page);
  };
  await changed(() => dragged(page, [0, 0], [4, 3]));
  const [x1, y1] = await place(page, [4, 0]), [x2, y2] = await place(page, [5, 1]);
  await page.pointer([['move', x1, y1], ['down'], ['move', x2, y2]]);
  assert.match(await changed(() => page.keys(`3${TAB}4${ENTER}`)), /rect_m: \[4, 0, 3, 4\]/);
  await page.pointer([['up']]);
  await page.evaluate(() => {
    const shape = document.querySelector('#form [name=shape]');
    shape.value = 'corners';
    shape.dispatchEvent(new Event('change'));
  });
  for (const at of [[0, 3], [4, 3], [4, 6]]) {
    const [x, y] = await place(page, at);
    await page.pointer([['move', x, y], ['down'], ['up']]);
  }
  assert.match(await changed(async () => {
    const [x, y] = await place(page, [0, 3]);
    await page.pointer([['move', x, y], ['down'], ['up']]);
  }), /corners_m: \[\[0, 3\], \[4, 3\], \[4, 6\]\]/);
  assert.deepEqual(await page.evaluate(() => globalThis.linkmargin.tells), []);
  const text = await textOf(page);
  assert.equal(checked(text), null);  // there is no hub yet
  await page.close();
});

test('letters typed in a closed list choose nothing until the field is left', async () => {
  const page = await opened(readFileSync(join(data, 'starter.yaml'), 'utf8'));
  const before = await textOf(page);
  await page.evaluate(() => {
    document.querySelector('input[value=storey]').click();
    document.querySelector('#form [name=inner_material]').focus();
  });
  await page.keys('thick s');
  assert.equal(await page.evaluate(() => document.activeElement.value), 'thick stone');
  assert.equal(await textOf(page), before);
  await page.keys(TAB);
  await settled(page, before);
  assert.match(await textOf(page), /\n {4}inner_wall: \{material: thick stone\}/);
  sameFigures(await figuresOf(page), await textOf(page));
  await page.close();
});

test('a trap is survived, hostile texts are told', async () => {
  const page = await opened(demo);
  assert.equal((await page.evaluate(() => globalThis.linkmargin.sketch.figures.call('trap'))).status, 'ended');
  await dragged(page, [0.6, 4.4], [3, 2]);
  await settled(page, demo);
  sameFigures(await figuresOf(page), await textOf(page));
  await page.close();
  const bad = '<img src=x onerror=document.title="run">';
  const marked = await opened(randomSite(3).replaceAll('device 0', JSON.stringify(`a${bad}`)));
  assert.ok((await figuresOf(marked)).some(({device}) => device.includes('<img')));
  assert.equal(await marked.evaluate(() => document.querySelectorAll('img').length), 0);
  await marked.close();
  const broken = await opened('site: [\n');
  assert.ok(await broken.evaluate(() => document.querySelectorAll('#faults li').length) > 0);
  await broken.close();
});

test('the report page is the program\'s, byte for byte', async () => {
  const starter = readFileSync(join(data, 'starter.yaml'), 'utf8');
  const page = await opened(starter);
  // What the person is handed is kept here instead.
  await page.evaluate(() => {
    const given = URL.createObjectURL;
    URL.createObjectURL = (blob) => {
      blob.text().then((text) => { globalThis.handed = text; });
      return given(blob);
    };
    document.getElementById('report').click();
  });
  await page.until(() => globalThis.handed !== undefined);
  const made = await page.evaluate(() => globalThis.handed);
  assert.ok(made === reportOf(starter, 'en', 'armed', '', /<footer[^]*?(\d{4}-\d\d-\d\d)/.exec(made)[1]));
  await page.close();
});

// The times are told and not held: they are the machine's as much as the page's.
test('60 devices are dragged for 20 s, and the figures follow', async () => {
  const page = await opened(randomSite(7, 60));
  const hub = await page.evaluate(() => {
    const {sketch, view} = globalThis.linkmargin;
    const {at, storey} = sketch.radio('hub', 'hub');
    sketch.goTo(storey);
    view.fit(sketch.here);
    globalThis.gaps = [];
    let last = performance.now();
    const frame = (now) => {
      globalThis.gaps.push(now - last);
      last = now;
      requestAnimationFrame(frame);
    };
    requestAnimationFrame(frame);
    return at;
  });
  const taken = async () => spread(await page.evaluate(() => globalThis.gaps.splice(0).slice(2)));
  const [load] = loadavg();
  const [x, y] = await place(page, hub);
  await page.pointer([['move', x, y], ['down']]);
  const moves = Array.from({length: 1200}, (_, i) => ['move', x + 60 * Math.sin(i / 12), y + 40 * Math.cos(i / 9)]);
  await page.pointer(moves, 16);
  const drag = await taken();
  await page.pointer([['up']]);
  const {median, most95, most, over50, count} = drag;
  console.log(`frames ${median.toFixed(1)} ms apart, 95 % within ${most95.toFixed(1)}, most ${most.toFixed(1)}, ${over50} of ${count} over 50 ms, load ${load.toFixed(0)}`);
  await page.until(() => globalThis.linkmargin.sketch.canUndo);
  sameFigures(await figuresOf(page), await textOf(page));
  await page.close();
});
