// Makes the module small and cuts it in two: node split.mjs FOLDER FIRST.wasm LATE.wasm. In the folder are linkmargin.wasm, the whole,
// and first.wasm, the same without the functions that are asked for late (lib/wasm/CMakeLists.txt). The second module has the code that
// only those need; it uses memory, table and functions of the first.
import {execFileSync} from 'node:child_process';
import {mkdtempSync, readFileSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join} from 'node:path';

const [, , built, first, late] = process.argv;
if (!late) throw new Error('node split.mjs FOLDER FIRST.wasm LATE.wasm');
const FEATURES = ['--enable-exception-handling', '--enable-bulk-memory', '--enable-sign-ext', '--enable-nontrapping-float-to-int'];
const NAMES_OF_FUNCTIONS = 1;  // the kind of a part of the section `name`

/** The names of a module's functions. */
function names(file) {
  const [section] = WebAssembly.Module.customSections(new WebAssembly.Module(readFileSync(file)), 'name');
  const bytes = new Uint8Array(section), found = [];
  let at = 0;
  const number = () => {
    let value = 0;
    for (let shift = 0;; shift += 7) {
      const byte = bytes[at++];
      value += (byte & 0x7f) * 2 ** shift;
      if (byte < 0x80) return value;
    }
  };
  while (at < bytes.length) {
    const kind = bytes[at++], size = number(), end = at + size;
    for (let left = kind === NAMES_OF_FUNCTIONS ? number() : 0; left > 0; --left) {
      number();
      const length = number();
      found.push(Buffer.from(bytes.subarray(at, at + length)).toString());
      at += length;
    }
    at = end;
  }
  return found;
}

/** What the start of a module asks of the second one: the number of its placeholder; null: nothing. */
function askedAtStart(file) {
  const module = new WebAssembly.Module(readFileSync(file)), imports = {};
  let asked = null;
  for (const {module: from, name} of WebAssembly.Module.imports(module)) {
    (imports[from] ??= {})[name] = () => {
      asked ??= name;
      throw new Error(name);
    };
  }
  try {
    new WebAssembly.Instance(module, imports).exports._initialize();
  } catch (error) {
    if (asked === null) throw error;
  }
  return asked;
}

const folder = mkdtempSync(join(tmpdir(), 'linkmargin-split-'));
const whole = join(built, 'linkmargin.wasm'), [list, placeholders, one, other] = ['late', 'one.wasm.placeholders', 'one.wasm', 'other.wasm'].map((name) => join(folder, name));
// Functions of several sources that have the same name are told apart by a number, which counts otherwise in each of the two.
const nameOf = (name) => name.replace(/(\.\d+)+$/, '');
const early = new Set(names(join(built, 'first.wasm')).map(nameOf));
const possiblyLate = names(whole).filter((name) => !early.has(nameOf(name)));
const kept = new Set();
for (let asked = ''; asked !== null; asked = askedAtStart(one)) {
  // What the start needs of code that is late otherwise, such as the making of constants, stays in the first.
  if (asked) kept.add(readFileSync(placeholders, 'utf8').match(new RegExp(`^${asked}:(.*)$`, 'm'))[1]);
  writeFileSync(list, possiblyLate.filter((name) => !kept.has(name)).join('\n'));
  execFileSync('wasm-split', ['--split', '-g', `--split-funcs=@${list}`, '--import-namespace=first', '--placeholder-namespace=late', '--placeholdermap',
                              ...FEATURES, whole, '-o1', one, '-o2', other]);
}
// No data stands in the first 1,024 bytes of its memory, where an address of nothing points.
const SMALL = ['-Oz', '--merge-similar-functions', '--low-memory-unused', ...FEATURES];
execFileSync('wasm-opt', [...SMALL, one, '-o', first]);
execFileSync('wasm-opt', [...SMALL, other, '-o', late]);
rmSync(folder, {recursive: true});
