// Changes of a text: only the asked place changes, and the text means what was asked for.
import assert from 'node:assert/strict';
import {readFileSync} from 'node:fs';
import {join} from 'node:path';
import {test} from 'node:test';
import {parse} from 'yaml';
import {renamed, values, withEntry, withValue, without} from '../source/site_text.mjs';
import {data, random} from './support.mjs';

const demo = readFileSync(join(data, 'sites/kiln-lane.yaml'), 'utf8');

/** The lines of one text that the other lacks. */
const lost = (one, other) => one.split(/\r?\n/).filter((line) => !other.split(/\r?\n/).includes(line));

test('a room is added behind the last, and nothing else changes', () => {
  const text = withEntry(demo, ['storeys', 0, 'rooms'], 'annexe: 1', {rect_m: [30, 2, 3.5, 4]});
  assert.deepEqual(lost(demo, text), []);
  assert.deepEqual(lost(text, demo), ['      "annexe: 1": {rect_m: [30, 2, 3.5, 4]}']);
});

test('a value changes where it stands, its comment stays', () => {
  const text = withValue(demo, ['storeys', 1, 'level_m'], 3);
  assert.deepEqual(lost(text, demo), ['    level_m: 3              # 2.6 m under the ceiling and 0.25 m of floor']);
});

test('an item of several lines goes, a key is renamed', () => {
  const at = values(demo).storeys[0].openings.findIndex(({name}) => name === 'garage door');
  const text = without(demo, ['storeys', 0, 'openings', at]);
  assert.equal(lost(demo, text).length, 2);
  assert.deepEqual(lost(text, demo), []);
  assert.deepEqual(lost(renamed(demo, ['storeys', 0, 'rooms', 'garage'], 'shed'), demo),
                   ['      shed:    {rect_m: [13, 0, 3.5, 6], roof: {material: flat felt roof}}   # no storey above']);
});

test('sections that are missing are made, as people write them', () => {
  let text = 'site: x\nstoreys:\n  - name: ground\n    height_m: 2.5\n';
  text = withEntry(text, ['storeys', 0, 'rooms'], 'hall', {rect_m: [0, 0, 2, 5]});
  text = withEntry(text, ['storeys', 0, 'openings'], null, {name: 'a', in: 'hall'});
  text = withEntry(text, ['storeys'], null, {name: 'upper', height_m: 2.4}, true);
  text = withEntry(text, ['hubs'], 'hub', {in: 'hall'});
  assert.equal(text, `site: x
storeys:
  - name: ground
    height_m: 2.5
    rooms:
      hall: {rect_m: [0, 0, 2, 5]}
    openings:
      - {name: a, in: hall}
  - name: upper
    height_m: 2.4
hubs:
  hub: {in: hall}
`);
});

test('any order of changes, in any way of writing, means what it says', () => {
  const starts = [demo, demo.replaceAll('\n', '\r\n'), JSON.stringify(parse(demo)), 'a: 1\nrooms: {}\nlist: []\n', 'rooms:\nlist:\n', demo.trimEnd()];
  for (const [number, start] of starts.entries()) {
    const next = random(number + 1);
    let text = start;
    const expected = values(start);
    const rooms = expected.storeys ? ['storeys', 0, 'rooms'] : ['rooms'];
    const list = expected.storeys ? ['storeys', 0, 'openings'] : ['list'];
    const at = (path) => path.reduce((node, key) => node[key], expected);
    const set = (path, value) => { at(path.slice(0, -1))[path.at(-1)] = value; };
    for (let i = 0; i < 60; ++i) {
      const names = Object.keys(at(rooms) ?? {}), items = at(list) ?? [];
      const choice = Math.floor(next() * 5);
      if (choice === 0) {
        const name = `r ${i}: #'"`;
        text = withEntry(text, rooms, name, {rect_m: [i, 0, 1, 1]});
        set(rooms, {...at(rooms), [name]: {rect_m: [i, 0, 1, 1]}});
      } else if (choice === 1) {
        text = withEntry(text, list, null, {name: `o${i}`});
        set(list, [...items, {name: `o${i}`}]);
      } else if (choice === 2 && names.length > 1) {
        const name = names[Math.floor(next() * names.length)];
        text = without(text, [...rooms, name]);
        delete at(rooms)[name];
      } else if (choice === 3 && items.length > 1) {
        const which = Math.floor(next() * items.length);
        text = without(text, [...list, which]);
        items.splice(which, 1);
      } else if (names.length > 0) {
        const name = names[Math.floor(next() * names.length)];
        text = withValue(text, [...rooms, name, 'rect_m'], [i, i, 2, 2]);
        at(rooms)[name].rect_m = [i, i, 2, 2];
      }
      assert.deepEqual(values(text), expected, `start ${number}, change ${i}`);
    }
    if (start === demo) {
      for (const line of demo.split('\n').filter((one) => /^ *#|^note|invented/.test(one))) assert.ok(text.includes(line));
    }
  }
});

test('what is no site is left alone', () => {
  for (const text of ['', '- 1', 'a: [', '"x"']) assert.equal(values(text), null);
});
