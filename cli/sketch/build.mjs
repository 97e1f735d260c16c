// Builds the page: node build.mjs MODULE.wasm LATE.wasm OUT.html. Script, style, words, tables and both modules go into one file, which
// asks for nothing.
import {build} from 'esbuild';
import {createHash} from 'node:crypto';
import {readFileSync, writeFileSync} from 'node:fs';
import {dirname, join} from 'node:path';
import {fileURLToPath} from 'node:url';
import {gzipSync} from 'node:zlib';
import {parse} from 'yaml';
import {ADVISED} from './source/advised.mjs';

const here = dirname(fileURLToPath(import.meta.url));
const data = join(here, '../../data');
const [, , modulePath, latePath, outPath] = process.argv;
if (!outPath) throw new Error('node build.mjs MODULE.wasm LATE.wasm OUT.html');

const table = (file) => parse(readFileSync(join(data, file), 'utf8'));
const words = Object.fromEntries(['en', 'de'].map((tag) => {
  const {name, decimal_mark, texts, materials: named = {}} = table(`languages/${tag}.yaml`);
  return [tag, {name, decimal_mark, texts: texts.sketch, materials: named}];
}));
const advice = Object.fromEntries(Object.keys(words).map((tag) => {
  const {texts} = table(`languages/${tag}.yaml`);
  return [tag, Object.entries(ADVISED).map(([name, path]) => {
    const text = path.split('.').reduce((node, key) => node?.[key], texts);
    if (typeof text !== 'string') throw new Error(`${tag}: no text '${path}', which the page says in its own words`);
    return [name, text];
  })];
}));
const rows = table('materials.yaml').materials;
const namesFor = (...purposes) => Object.keys(rows).filter((name) => purposes.some((purpose) => rows[name].use?.includes(purpose)));
const of = (names, value) => Object.fromEntries(names.map((name) => [name, value(rows[name])]).filter(([, one]) => one !== undefined));
const used = namesFor('wall', 'door', 'glazing', 'obstacle');
const materials = {
  wall: namesFor('wall'),
  leaf: namesFor('door', 'glazing'),
  obstacle: namesFor('obstacle').filter((name) => !rows[name].electrical),
  // A material by its electrical properties needs a thickness wherever it is used.
  thick: used.filter((name) => rows[name].electrical),
  metal: used.filter((name) => rows[name].group?.startsWith('metal')),
  glass: used.filter((name) => rows[name].group?.endsWith('glass') || /glaz|glass/.test(name)),
  layers: of(used, ({layers}) => layers && Number(layers.reduce((sum, {thickness_m}) => sum + thickness_m, 0).toFixed(4))),
  losses: of(used, ({losses, loss_db, frequency_mhz}) =>
      losses?.map((one) => [one.frequency_mhz, one.loss_db]) ?? (loss_db === undefined ? undefined : [[frequency_mhz, loss_db]])),
};
const kinds = Object.fromEntries(Object.entries(table('opening-kinds.yaml').opening_kinds).map(
    ([name, {width_m, leaf}]) => [name, {width_m, leaf}]));
const constructions = Object.fromEntries(Object.entries(table('constructions.yaml').constructions).map(
    ([name, {outer_wall, inner_wall}]) => [name, {outer_wall, inner_wall}]));

async function bundled(entry, format) {
  const {outputFiles: [file]} = await build({
    entryPoints: [join(here, 'source', entry)], bundle: true, minify: true, write: false, format, target: 'es2022', charset: 'utf8',
    legalComments: 'inline',
    define: {
      WORDS: JSON.stringify(words),
      ADVICE: JSON.stringify(advice),
      KINDS: JSON.stringify(kinds),
      CONSTRUCTIONS: JSON.stringify(constructions),
      MATERIALS: JSON.stringify(materials),
    },
  });
  return file.text.replaceAll('</script', '<\\/script').trim();
}

const script = await bundled('main.mjs', 'esm');
const worker = await bundled('worker.mjs', 'iife');
const style = readFileSync(join(here, 'source/style.css'), 'utf8');
const hash = (text) => `'sha256-${createHash('sha256').update(text).digest('base64')}'`;
// Figures are calculated in workers of the page's own text (blob:); pictures are read and drawn (data:, blob:). Nothing is fetched.
const policy = [
  `default-src 'none'`, `script-src ${hash(script)} 'wasm-unsafe-eval'`, `worker-src blob:`, `style-src ${hash(style)}`,
  `img-src data: blob:`, `base-uri 'none'`, `form-action 'none'`,
].join('; ');

const packed = (path) => gzipSync(readFileSync(path), {level: 9}).toString('base64');
const parts = {
  POLICY: policy, STYLE: style, WORKER: worker, SCRIPT: script,
  MODULE: packed(modulePath),
  LATE: packed(latePath),
};
const page = readFileSync(join(here, 'source/page.html'), 'utf8').replace(/@([A-Z]+)@/g, (all, name) => parts[name] ?? all);
writeFileSync(outPath, page);
console.log(`${outPath}: ${(page.length / 1e6).toFixed(2)} MB`);
