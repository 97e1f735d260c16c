// What the tests share: the program, the module, sites made at random, the page with a site in it.
import assert from 'node:assert/strict';
import {execFileSync, spawnSync} from 'node:child_process';
import {existsSync, mkdtempSync, readFileSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {dirname, join} from 'node:path';
import {fileURLToPath} from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '../../..');
export const data = join(root, 'data');
export const modulePath = join(root, 'build/linkmargin.wasm');
export const latePath = join(root, 'build/linkmargin-late.wasm');
export const pagePath = join(root, 'build/linkmargin.html');
export const folder = mkdtempSync(join(tmpdir(), 'linkmargin-sketch-'));

const built = ['release', 'dev', 'ci'].map((preset) => join(root, 'build', preset, 'cli/linkmargin'));
export const program = process.env.LINKMARGIN ?? built.find(existsSync);
if (!program) throw new Error('build the program first: cmake --preset release && cmake --build --preset release');

/** What the program prints; of a site whose devices are weak too. */
export function run(...words) {
  return execFileSync(program, words, {encoding: 'utf8', maxBuffer: 1 << 28});
}

/** What `check --format json` says of a text; null where it has faults. */
export function checked(text, ...more) {
  const place = join(folder, 'site.yaml');
  writeFileSync(place, text);
  const {status, stdout} = spawnSync(program, ['check', place, '--format', 'json', ...more], {encoding: 'utf8', maxBuffer: 1 << 28});
  return status === 0 ? JSON.parse(stdout) : null;
}

/** The report page that the program writes of a text, with a date that is given. */
export function reportOf(text, language, doors, csv = '', date = '2026-12-01') {
  const [site, readings, page] = ['site.yaml', 'readings.csv', 'report.html'].map((name) => join(folder, name));
  writeFileSync(site, text);
  writeFileSync(readings, csv);
  execFileSync(program, ['report', site, '--output', page, '--language', language, '--doors', doors, ...(csv ? ['--readings', readings] : [])],
               {env: {...process.env, SOURCE_DATE_EPOCH: String(Date.parse(date) / 1000)}});
  return readFileSync(page, 'utf8');
}

/** Numbers from 0 to 1 that are the same each time (mulberry32). */
export function random(seed) {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** An invented house: rows of rooms on one to three storeys, doors, windows, devices wherever. */
export function randomSite(seed, devices = null) {
  const next = random(seed);
  const pick = (list) => list[Math.floor(next() * list.length)];
  const metres = (low, high) => (low + next() * (high - low)).toFixed(2);
  const storeys = 1 + Math.floor(next() * 3);
  const columns = 2 + Math.floor(next() * 3), rows = 1 + Math.floor(next() * 3);
  const widths = Array.from({length: columns}, () => Number(metres(2, 6))), depths = Array.from({length: rows}, () => Number(metres(2.5, 5)));
  const sum = (list, n) => Number(list.slice(0, n).reduce((a, b) => a + b, 0).toFixed(2));
  const lines = [
    `site: Invented house ${seed}`, `radio: {frequency_mhz: ${pick([433.9, 868.3, 915, 2440])}}`,
    'reading: {zero_dbm: -105, full_dbm: -40, weak_below_percent: 40}',
    `construction: ${pick(['brick 1930s', 'solid brick', 'timber frame', 'stone cottage', 'precast concrete'])}`, 'storeys:',
  ];
  const places = [];
  for (let s = 0; s < storeys; ++s) {
    lines.push(`  - name: storey ${s}`, '    height_m: 2.5', '    rooms:');
    for (let c = 0; c < columns; ++c) {
      for (let r = 0; r < rows; ++r) {
        lines.push(`      room ${s}${c}${r}: {rect_m: [${sum(widths, c)}, ${sum(depths, r)}, ${widths[c]}, ${depths[r]}]}`);
        places.push({s, x: sum(widths, c), y: sum(depths, r), w: widths[c], d: depths[r]});
      }
    }
    lines.push('    openings:');
    for (let c = 0; c < columns; ++c) {
      lines.push(`      - {name: window ${s}${c}, kind: ${pick(['window', 'coated window'])}, in: room ${s}${c}0, wall: bottom}`);
      if (c > 0) lines.push(`      - {name: door ${s}${c}, kind: ${pick(['inner door', 'steel door', 'passage'])}, between: [room ${s}${c - 1}0, room ${s}${c}0]}`);
    }
  }
  const radio = (name, profile) => {
    const {s, x, y, w, d} = pick(places);
    return `  ${name}: {profile: ${profile}, storey: storey ${s}, at_m: [${(x + 0.1 + next() * (w - 0.2)).toFixed(2)}, ${(y + 0.1 + next() * (d - 0.2)).toFixed(2)}], height_m: ${metres(0.3, 2.4)}}`;
  };
  lines.push('hubs:', radio('hub', 'hub'));
  if (next() < 0.4) lines.push('repeaters:', radio('repeater', 'repeater'));
  lines.push('devices:');
  const count = devices ?? 3 + Math.floor(next() * 8);
  for (let i = 0; i < count; ++i) lines.push(radio(`device ${i}`, pick(['contact', 'motion', 'siren', 'keypad', 'flood'])));
  return lines.join('\n') + '\n';
}

/** The page as the program writes it, with a site in it. */
export function pageWith(text, name = 'page') {
  const page = join(folder, `${name}.html`);
  if (text === null) {
    run('sketch', '--output', page);
    return page;
  }
  const site = join(folder, `${name}.yaml`);
  writeFileSync(site, text);
  if (spawnSync(program, ['sketch', site, '--output', page]).status === 0) return page;
  // A file with faults is no page's; in the browser it is opened all the same.
  const escaped = text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('\r', '&#13;');
  writeFileSync(page, readFileSync(pagePath, 'utf8').replace('<template id="given">', () => `<template id="given">${escaped}`));
  return page;
}

/** The figures of the page are the program's. */
export function sameFigures(devices, text, ...more) {
  const native = checked(text, ...more);
  assert.ok(native, 'the program finds faults');
  assert.equal(devices.length, native.links.length);
  for (const [i, link] of native.links.entries()) {
    assert.equal(devices[i].device, link.device);
    assert.equal(devices[i].outcome, link.outcome);
    for (const [own, key] of [['reading', 'reading_percent'], ['chance', 'pass_probability'], ['low', 'reading_low_percent'], ['high', 'reading_high_percent']])
      assert.ok(Math.abs(devices[i][own] - link[key]) <= 1e-9, `${link.device} ${key}: ${devices[i][own]} ${link[key]}`);
  }
}

/** Times between frames: their middle, what 95 % stay within, the most, how many were over 50 ms. */
export function spread(times) {
  const sorted = [...times].sort((p, q) => p - q);
  const at = (share) => sorted[Math.floor(share * (sorted.length - 1))];
  return {count: sorted.length, median: at(0.5), most95: at(0.95), most: at(1), over50: sorted.filter((time) => time > 50.5).length};
}
