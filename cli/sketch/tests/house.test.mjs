// How a house is built, in the page: usual walls, walls of their own, openings, ceilings, sizes measured inside.
import assert from 'node:assert/strict';
import {test} from 'node:test';
import {changed, click, dragged, figuresOf, looked, opened, place, settled, textOf, tipOf, undone} from './browser.mjs';
import {sameFigures} from './support.mjs';

/** Three rooms in a row, the first with two sides outside but for its bottom; invented. */
const ROW = `site: Invented row
radio: {frequency_mhz: 868.3}
reading: {zero_dbm: -105, full_dbm: -30, weak_below_percent: 40}
construction: solid brick
storeys:
  - name: ground
    height_m: 2.5
    rooms:
      hall: {rect_m: [0, 0, 2, 5]}
      shop: {rect_m: [2, 0, 4, 5]}
      store: {rect_m: [6, 0, 3, 5]}
    openings:
      - {name: front door, kind: front door, between: [hall, outside], at_m: [1, 0]}
      - {name: shop window, kind: window, between: [shop, outside], at_m: [4, 0]}
hubs:
  hub: {profile: hub, storey: ground, at_m: [0.4, 4.6], height_m: 2}
devices:
  shop motion: {profile: motion, storey: ground, at_m: [5.6, 4.6], height_m: 2.2}
  door contact: {profile: contact, on: front door}
`;

const chosen = (page, name) => page.evaluate((one) => document.querySelector(`#form [name=${one}]`).selectedOptions[0].text, name);
const optionsOf = (page, name) => page.locator(`#form [name=${name}] option`).allTextContents();
const formText = (page) => page.textContent('#form');

for (const {locale, colorScheme, outer, inner, words, brick, pair} of [
       {locale: 'en', colorScheme: 'light', outer: 'usual: brick 0.215 m', inner: 'usual: stud wall 0.1 m', words: 'Outer walls: brick 0.215 m. Inner walls: stud wall 0.1 m.',
        brick: 'brick (loss by thickness)', pair: ['stone (12 dB)', 'thick stone (20 dB)']},
       {locale: 'de', colorScheme: 'dark', outer: 'üblich: Ziegel 0,215 m', inner: 'üblich: Ständerwand 0,1 m', words: 'Außenwände: Ziegel 0,215 m. Innenwände: Ständerwand 0,1 m.',
        brick: 'Ziegel (Dämpfung nach Dicke)', pair: ['Naturstein (12 dB)', 'dicker Naturstein (20 dB)']}]) {
  test(`${locale}, ${colorScheme}: what the usual walls are made of is said and set, of the house at once`, async () => {
    const {page, said, close} = await opened(ROW, {locale, colorScheme});
    await page.check('input[value=storey]');
    assert.ok((await formText(page)).includes(words));
    assert.equal(await chosen(page, 'outer_material'), outer);
    assert.equal(await chosen(page, 'inner_material'), inner);
    const names = await optionsOf(page, 'outer_material');
    for (const one of [brick, ...pair]) assert.ok(names.includes(one), one);
    assert.equal(new Set(names).size, names.length);

    const stone = await changed(page, () => page.selectOption('#form [name=outer_material]', 'stone'));
    assert.match(stone, /\nouter_wall: \{material: stone\}\n/);
    const thick = await changed(page, async () => {
      await page.fill('#form [name=outer_thickness]', '0,5');
      await page.keyboard.press('Tab');
    });
    assert.match(thick, /\nouter_wall: \{material: stone, thickness_m: 0\.5\}\n/);
    assert.match(await changed(page, () => page.selectOption('#form [name=inner_material]', 'brick')), /\ninner_wall: \{material: brick, thickness_m: 0\.1\}\n/);
    sameFigures(await figuresOf(page), await textOf(page));
    const outside = await page.locator('.layer-walls line').evaluateAll((lines) => lines.filter((one) => one.getAttribute('stroke-width') === '0.5').length);
    assert.ok(outside > 6, `${outside} walls are 0.5 m thick`);

    // A wall of its own says what it is without.
    await page.check('input[value=change]');
    await click(page, [3, 1]);
    await page.selectOption('#form [name=other]', 'store');
    assert.match(await chosen(page, 'material'), locale === 'en' ? /^usual: brick 0\.1 m$/ : /^üblich: Ziegel 0,1 m$/);
    assert.deepEqual(said, []);
    await close();
  });
}

test('a thickness alone changes the usual wall; back to the usual one; a storey that is built in its own way has its own', async () => {
  const {page, close} = await opened(ROW);
  await page.check('input[value=storey]');
  const typed = await changed(page, async () => {
    await page.fill('#form [name=outer_thickness]', '0.33');
    await page.press('#form [name=outer_thickness]', 'Enter');
  });
  assert.match(typed, /\nouter_wall: \{material: brick, thickness_m: 0\.33\}\n/);
  assert.equal(await page.evaluate(() => document.activeElement.name), 'outer_thickness');
  assert.equal(await page.evaluate(() => globalThis.linkmargin.sketch.storeyNames.length), 1);
  assert.doesNotMatch(await changed(page, () => page.selectOption('#form [name=outer_material]', '')), /outer_wall/);
  await close();

  const own = await opened(ROW.replace('    height_m: 2.5', '    height_m: 2.5\n    construction: stone cottage'));
  await own.page.check('input[value=storey]');
  assert.ok((await formText(own.page)).includes('Outer walls: stone 0.5 m. Inner walls: lath and plaster 0.12 m.'));
  assert.match(await changed(own.page, () => own.page.selectOption('#form [name=inner_material]', 'stud wall')), /construction: stone cottage\n {4}rooms:[^]*\n {4}inner_wall: \{material: stud wall\}\n/);
  await own.close();
});

test('letters typed in a closed list choose nothing until it is left or Enter is pressed, and the field stays', async () => {
  const {page, said, close} = await opened(ROW);
  await click(page, [3, 1]);
  await page.selectOption('#form [name=other]', 'store');
  const material = page.locator('#form [name=material]');
  await material.focus();
  const node = await material.elementHandle();
  await page.keyboard.type('thick s', {delay: 60});
  await page.waitForTimeout(300);
  assert.equal(await textOf(page), ROW);
  assert.equal(await chosen(page, 'material'), 'thick stone (20 dB)');
  assert.ok(await node.evaluate((one) => one.isConnected && one === document.activeElement));
  // Figures that come meanwhile do not take it away.
  await page.evaluate(() => globalThis.linkmargin.sketch.show(globalThis.linkmargin.sketch.text));
  assert.ok(await node.evaluate((one) => one.isConnected && one === document.activeElement));
  assert.match(await changed(page, () => page.keyboard.press('Enter')), /between: \[shop, store\], material: thick stone\}/);
  assert.equal(await page.evaluate(() => document.activeElement.name), 'material');
  await page.keyboard.type('brick', {delay: 30});
  assert.match(await textOf(page), /material: thick stone\}/);
  assert.match(await changed(page, () => page.keyboard.press('Tab')), /between: \[shop, store\], material: brick, thickness_m: 0\.1\}/);
  await page.waitForFunction(() => document.activeElement.name === 'thickness');
  // What is typed in a field while the form is drawn anew stays as it is.
  await page.keyboard.type('0.2');
  await page.evaluate(() => globalThis.linkmargin.sketch.show(globalThis.linkmargin.sketch.text));
  await page.keyboard.type('4');
  assert.match(await changed(page, () => page.keyboard.press('Enter')), /material: brick, thickness_m: 0\.24\}/);
  // Arrow keys choose nothing by themselves either.
  await page.locator('#form [name=material]').focus();
  await page.keyboard.press('ArrowDown');
  const before = await textOf(page);
  await page.waitForTimeout(200);
  assert.equal(await textOf(page), before);
  assert.deepEqual(said, []);
  await close();
});

test('another material keeps the thickness; all walls of a room to others are said at once; an opening keeps to its wall', async () => {
  const {page, said, close} = await opened(ROW);
  await click(page, [3, 1]);
  await page.selectOption('#form [name=other]', 'outside');
  assert.match(await changed(page, () => page.selectOption('#form [name=material]', 'concrete')),
               /between: \[shop, outside\], material: concrete, thickness_m: 0\.215\}/);
  await page.selectOption('#form [name=other]', '*');
  assert.match(await chosen(page, 'material'), /^usual: stud wall/);
  const all = await changed(page, () => page.selectOption('#form [name=material]', 'brick'));
  assert.match(all, /shop: +\{rect_m: \[2, 0, 4, 5\], inner_wall: \{material: brick, thickness_m: 0\.1\}\}/);
  assert.equal(await chosen(page, 'other'), 'all its walls to other rooms');
  await page.selectOption('#form [name=other]', 'store');
  assert.match(await chosen(page, 'material'), /^usual: brick 0.1 m/);
  await page.selectOption('#form [name=other]', '*');
  assert.ok(!(await changed(page, () => page.selectOption('#form [name=material]', ''))).includes('inner_wall'));
  // A room with one neighbour has its one wall alone.
  await click(page, [1, 2]);
  assert.deepEqual((await optionsOf(page, 'other')).filter((one) => one.startsWith('all')), []);
  // An opening is put nowhere but on its piece of wall.
  await click(page, [4, 0]);
  const before = await textOf(page);
  for (const from of ['-1', '9']) {
    await page.fill('#form [name=from]', from);
    await page.press('#form [name=from]', 'Enter');
    await page.waitForFunction((text) => document.querySelector('#tip').textContent.startsWith(text), Number(from).toFixed(2));
    assert.match(await tipOf(page), /is not on this piece of wall, which is 4\.00 m long/);
  }
  assert.equal(await textOf(page), before);
  assert.deepEqual(said, []);
  await close();
});

test('a wall is selected by a click, outer ones too, marked on the plan, and its sides are named', async () => {
  const {page, said, close} = await opened(ROW);
  const marked = () => page.locator('.layer-edges .marked').evaluateAll((lines) => lines.map(({dataset: {a, b}}) => `${a}/${b}`));
  await click(page, [6, 2]);
  assert.match(await formText(page), /Wall: shop \/ store/);
  assert.deepEqual(await marked(), ['shop/store']);
  assert.match(await changed(page, () => page.selectOption('#form [name=material]', 'none')), /between: \[shop, store\], material: none\}/);
  assert.match(await formText(page), /Wall: shop \/ store/);
  assert.deepEqual(await marked(), ['shop/store']);
  await click(page, [0, 2]);
  assert.match(await formText(page), /Wall: hall \/ outside \((bottom|left|top), (bottom|left|top), (bottom|left|top)\)/);
  assert.match(await formText(page), /All outer sides of a room are made alike/);
  assert.equal((await marked()).length, 3);
  const text = await changed(page, () => page.selectOption('#form [name=material]', 'stone'));
  assert.match(text, /between: \[hall, outside\], material: stone\}/);
  sameFigures(await figuresOf(page), text);
  // In the form of a room the wall that is chosen is marked.
  await click(page, [3, 1]);
  await page.selectOption('#form [name=other]', 'hall');
  assert.deepEqual(await marked(), ['hall/shop']);
  await page.selectOption('#form [name=other]', 'outside');
  assert.deepEqual(await marked(), ['shop/outside', 'shop/outside']);
  await page.check('input[value=radio]');
  assert.deepEqual(await marked(), []);
  assert.deepEqual(said, []);
  await close();
});

test('the construction shown is that of the site, after undo and in a new site; the ceiling is shown and set', async () => {
  const {page, close} = await opened(ROW);
  await page.check('input[value=storey]');
  await changed(page, () => page.selectOption('#form [name=construction]', 'stone cottage'));
  await undone(page, ROW);
  assert.equal(await page.inputValue('#form [name=construction]'), 'solid brick');
  assert.equal(await page.inputValue('#form [name=height]'), '2.5');
  const text = await changed(page, async () => {
    await page.fill('#form [name=height]', '2.72');
    await page.press('#form [name=height]', 'Enter');
  });
  assert.match(text, /name: ground\n {4}height_m: 2\.72\n/);
  assert.equal(await page.evaluate(() => globalThis.linkmargin.sketch.storeyNames.length), 1);
  await page.fill('#form [name=height]', '99');
  await page.keyboard.press('Tab');
  assert.match(await tipOf(page), /not a ceiling height/);
  assert.equal(await textOf(page), text);
  await page.click('#new');
  await page.waitForFunction(() => globalThis.linkmargin.sketch.here.rooms.length === 0 && globalThis.linkmargin.sketch.values.construction === 'brick 1930s');
  assert.equal(await page.inputValue('#form [name=construction]'), 'brick 1930s');
  await close();
});

test('openings are as wide and as thick as they are; kind, leaf, name and place of one are changed', async () => {
  const {page, said, close} = await opened(ROW.replace('construction: solid brick', 'construction: stone cottage'));
  const looks = (name) => page.locator(`.layer-openings line[data-name="${name}"]`).evaluate((hit) => {
    const shown = hit.previousElementSibling.previousElementSibling;
    return {wide: Math.hypot(shown.x2.baseVal.value - shown.x1.baseVal.value, shown.y2.baseVal.value - shown.y1.baseVal.value),
            thick: Number(shown.getAttribute('stroke-width')), looks: shown.getAttribute('class').split(' ').at(-1),
            colour: getComputedStyle(shown).stroke, cap: getComputedStyle(shown).strokeLinecap};
  });
  const wooden = await looks('front door');
  assert.ok(Math.abs(wooden.wide - 0.9) < 1e-4 && wooden.thick === 0.5 && wooden.looks === 'door' && wooden.cap === 'butt', JSON.stringify(wooden));
  assert.equal((await looks('shop window')).looks, 'window');
  await click(page, [1, 0]);
  assert.equal(await chosen(page, 'kind'), 'front door: timber door (3 dB)');
  assert.equal(await chosen(page, 'leaf'), 'usual: timber door (3 dB)');
  const steel = await changed(page, () => page.selectOption('#form [name=kind]', 'steel door'));
  assert.match(steel, /name: front door, kind: steel door/);
  const metal = await looks('front door');
  assert.equal(metal.looks, 'metal');
  assert.notEqual(metal.colour, wooden.colour);
  assert.match(await changed(page, () => page.selectOption('#form [name=leaf]', 'glazed door')), /kind: steel door, [^}]*leaf: glazed door\}/);
  assert.doesNotMatch(await changed(page, () => page.selectOption('#form [name=leaf]', '')), /leaf/);
  assert.equal(await page.inputValue('#form [name=from]'), '1');
  await page.fill('#form [name=name]', 'street door');
  await page.fill('#form [name=from]', '1.23');
  const text = await changed(page, () => page.click('#form button:has-text("Change")'));
  assert.match(text, /name: street door, kind: steel door, between: \[hall, outside\], at_m: \[1\.23, 0\]\}/);
  assert.match(text, /door contact: \{profile: contact, on: street door\}/);
  assert.equal(await page.textContent('#form h3'), 'street door');
  sameFigures(await figuresOf(page), text);
  // By pointer it slides in steps of 5 cm from the end of its wall, by keys in steps of 10 cm; no figure has more than two decimals.
  const slid = await changed(page, () => dragged(page, [1.23, 0], [0.801, 0.04]));
  assert.match(slid, /at_m: \[0\.8, 0\]\}/);
  await page.check('input[value=opening]');
  assert.ok((await optionsOf(page, 'kind')).includes('inner door: timber door (3 dB)'));
  assert.deepEqual(said, []);
  await close();
});

test('a passage is selected, slid and taken out as a door is', async () => {
  const {page, said, close} = await opened(ROW);
  await page.check('input[value=opening]');
  await page.selectOption('#form [name=kind]', 'passage');
  assert.match(await changed(page, () => click(page, [2, 2])), /kind: passage, between: \[hall, shop\], at_m: \[2, 2\]\}/);
  await page.check('input[value=change]');
  await click(page, [2, 2.2]);
  assert.equal(await chosen(page, 'kind'), 'passage: nothing in it');
  assert.match(await changed(page, () => dragged(page, [2, 2], [2.03, 3])), /at_m: \[2, 3\]\}/);
  await page.selectOption('#form [name=kind]', 'inner door');
  assert.equal(await changed(page, () => page.click('#form button:has-text("Remove")')), ROW);
  assert.deepEqual(said, []);
  await close();
});

test('what is dragged has no more decimals than people measure', async () => {
  const {page, close} = await opened(ROW.replace('[0, 0, 2, 5]', '[0, 0, 2, 4.19]').replace(/- \{name: shop[^\n]*/, '- {name: hall window, kind: window, between: [hall, outside], at_m: [1, 4.19]}')
                                        .replace('at_m: [0.4, 4.6]', 'at_m: [0.4, 4.19]'));
  const text = await changed(page, () => dragged(page, [1, 4.19], [0.8, 4.2]));
  assert.match(text, /hall window, kind: window, between: \[hall, outside\], at_m: \[0\.8, 4\.19\]\}/);
  await click(page, [0.4, 4.19]);
  assert.equal(await page.inputValue('#form [name=y]'), '4.19');
  assert.match(await changed(page, () => page.keyboard.press('ArrowRight')), /at_m: \[0\.5, 4\.19\]/);
  await close();
});

test('letters typed while a room is added begin the name of the next', async () => {
  const {page, said, close} = await opened(null);
  await page.click('#tasks input[value=room]', {force: true});
  await page.fill('#form [name=name]', 'hall');
  await page.fill('#form [name=width]', '3');
  await page.fill('#form [name=depth]', '4');
  const before = await textOf(page);
  // Enter and two letters in one go: the page has not answered yet, as when hands are quick.
  await page.evaluate(() => {
    const field = document.querySelector('#form [name=depth]');
    field.focus();
    field.form.requestSubmit();
    field.value += 'ki';
  });
  await settled(page, before);
  await page.waitForFunction(() => document.activeElement?.name === 'name');
  await page.keyboard.type('tchen');
  assert.equal(await page.inputValue('#form [name=name]'), 'kitchen');
  assert.deepEqual(await page.evaluate(() => globalThis.linkmargin.sketch.values.storeys[0].rooms), {hall: {rect_m: [0, 0, 3, 4]}});
  assert.deepEqual(said, []);
  await close();
});

test('x and y wait while a room stands beside another', async () => {
  const {page, close} = await opened(ROW);
  await page.check('input[value=room]');
  const states = () => page.evaluate(() => ['x', 'y', 'side'].map((name) => document.querySelector(`#form [name=${name}]`).disabled));
  assert.deepEqual(await states(), [true, true, false]);
  await page.selectOption('#form [name=of]', '');
  assert.deepEqual(await states(), [false, false, true]);
  await close();
});

test('measured inside: typed and drawn sizes are those between the walls, and the program adds them', async () => {
  const {page, said, close} = await opened(null);
  await looked(page);
  await page.check('input[value=storey]');
  assert.match(await changed(page, () => page.selectOption('#form [name=measured]', 'inside')), /\nmeasured: inside\n/);
  await page.check('input[value=room]');
  const fill = async (values) => {
    for (const [name, value] of Object.entries(values)) {
      const input = page.locator(`#form [name=${name}]`);
      if (await input.evaluate((one) => one.tagName) === 'SELECT') await input.selectOption(value);
      else await input.fill(value);
    }
    return changed(page, () => page.press('#form [name=depth]', 'Enter'));
  };
  assert.match(await fill({name: 'hall', width: '2', depth: '5'}), /hall: \{size_m: \[2, 5\]\}/);
  assert.match(await fill({name: 'shop', width: '4.2', depth: '5', of: 'hall', side: 'right'}), /shop: \{size_m: \[4\.2, 5\], right_of: hall\}/);
  const box = (name) => page.evaluate((one) => {
    const {corners} = globalThis.linkmargin.sketch.here.rooms.find((room) => room.name === one);
    return [corners[0][0], corners[0][1], corners[2][0], corners[2][1]];
  }, name);
  // Outer walls 0.25 m, the one between them 0.1 m.
  const near = (found, wanted) => found.forEach((value, i) => assert.ok(Math.abs(value - wanted[i]) < 1e-3, `${found} ${wanted}`));
  near(await box('hall'), [0, 0, 2.175, 5.25]);
  near(await box('shop'), [2.175, 0, 6.55, 5.25]);
  // Drawn from the corner of the hall upwards, with sizes typed.
  await page.fill('#form [name=name]', 'bath');
  const [x1, y1] = await place(page, [0, 5.25]), [x2, y2] = await place(page, [1.5, 7]);
  await page.mouse.move(x1, y1);
  await page.mouse.down();
  await page.mouse.move(x2, y2, {steps: 4});
  await page.keyboard.type('1.8');
  await page.keyboard.press('Tab');
  await page.keyboard.type('2.4');
  assert.match(await changed(page, () => page.keyboard.press('Enter')), /bath: \{size_m: \[1\.8, 2\.4\], above: hall\}/);
  await page.mouse.up();
  // The form says the inside, and takes it.
  await page.check('input[value=change]');
  await click(page, [1, 6]);
  assert.deepEqual([await page.inputValue('#form [name=width]'), await page.inputValue('#form [name=depth]')], ['1.8', '2.4']);
  await page.fill('#form [name=depth]', '2.5');
  const text = await changed(page, () => page.click('#form button:has-text("Change")'));
  assert.match(text, /bath: \{size_m: \[1\.8, 2\.5\], above: hall\}/);
  assert.match((await page.locator('#faults li').allTextContents()).join('; '), /^There is no hub yet[^;]*$/);
  // A door keeps its place in its wall while walls are added: the hall gets a neighbour on its left.
  await page.check('input[value=opening]');
  assert.match(await changed(page, () => click(page, [2.175, 2.1])), /kind: inner door, between: \[hall, shop\], from_bottom_m: 1\.5[78]/);
  await page.selectOption('#form [name=kind]', 'window');
  assert.match(await changed(page, () => click(page, [4, 0])), /kind: window, in: shop, wall: bottom, from_left_m: 1\.[12]\d/);
  const window = () => page.evaluate(() => {
    const {from, to} = globalThis.linkmargin.sketch.here.openings.find(({name}) => name === 'shop window');
    return [(from[0] + to[0]) / 2, from[1]];
  });
  const [seen_x, seen_y] = await window();
  assert.ok(Math.abs(seen_x - 4) < 0.06 && Math.abs(seen_y) < 1e-6, `${seen_x} ${seen_y}`);
  await page.check('input[value=room]');
  await fill({name: 'porch', width: '1.5', depth: '5', of: 'hall', side: 'left'});
  assert.match((await page.locator('#faults li').allTextContents()).join('; '), /^There is no hub yet[^;]*$/);
  await page.check('input[value=radio]');
  await changed(page, () => click(page, [0.5, 4.6]));
  await page.selectOption('#form [name=profile]', 'motion');
  await changed(page, () => click(page, [6, 4.6]));
  sameFigures(await figuresOf(page), await textOf(page));
  assert.deepEqual(said, []);
  await close();
});
