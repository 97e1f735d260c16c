// Changes of a site file's text that only a drawing makes: rooms, openings, storeys. Nothing but the asked place changes;
// comments, order and layout stay. What every command can set (places of radios, heights, ...) is changed by the library.
import {isMap, isPair, isScalar, isSeq, parseDocument, stringify} from 'yaml';

/** A value as one line. */
export const flow = (value) =>
    stringify(value, {collectionStyle: 'flow', lineWidth: 0, flowCollectionPadding: false}).trim();

const parsed = (text) => parseDocument(text, {uniqueKeys: false, logLevel: 'silent'});

const readable = (document) => document.errors.length === 0 && isMap(document.contents);

/** The file as plain values; null where it cannot be read. */
export function values(text) {
  const document = parsed(text);
  return readable(document) ? document.toJS() : null;
}

const lineEnd = (text, at) => {
  const end = text.indexOf('\n', at);
  return end < 0 ? text.length : end;
};
const lineBegin = (text, at) => text.lastIndexOf('\n', at - 1) + 1;
const column = (text, at) => at - lineBegin(text, at);
const newline = (text) => (text.includes('\r\n') ? '\r\n' : '\n');

/** Where what a node says ends, blanks and comments behind it left out. */
function contentEnd(text, node) {
  let end = node.range[1];
  while (end > node.range[0] && /\s/.test(text[end - 1])) --end;
  return end;
}

function pairOf(map, key) {
  return map.items.find((pair) => String(isScalar(pair.key) ? pair.key.value : pair.key) === String(key));
}

/** The node of a path of keys and positions, and the pair or list it stands in; null where there is none. */
function found(document, path) {
  let node = document.contents, pair = null, parent = null;
  for (const step of path) {
    parent = node;
    if (isMap(node)) {
      pair = pairOf(node, step);
      node = pair?.value ?? null;
      if (!pair) return null;
    } else if (isSeq(node)) {
      node = node.items[step] ?? null;
      if (!node) return null;
    } else {
      return null;
    }
  }
  return {node, pair, parent};
}

const splice = (text, begin, end, with_) => text.slice(0, begin) + with_ + text.slice(end);

/** Behind the last entry of a block, on a line of its own, as far in as its neighbours. */
function behind(text, last, indent, line) {
  const end = lineEnd(text, contentEnd(text, last));
  const at = text[end - 1] === '\r' ? end - 1 : end;
  return splice(text, at, at, newline(text) + ' '.repeat(indent) + line);
}

/** An entry as people write it: on one line; an item in block form has a line for each key. */
function entryLines(key, value, indent, line, inBlock) {
  if (key !== null) return `${flow(key)}: ${flow(value)}`;
  if (!inBlock) return `- ${flow(value)}`;
  return '- ' + Object.entries(value).map(([k, v]) => `${flow(k)}: ${flow(v)}`).join(line + ' '.repeat(indent + 2));
}

function added(text, document, path, key, value, inBlock) {
  const line = newline(text);
  const place = found(document, path);
  if (!place) {
    const parent = path.length === 1 ? document.contents : found(document, path.slice(0, -1)).node;
    if (parent.flow) return added(text, document, path.slice(0, -1), path.at(-1), key === null ? [value] : {[key]: value}, false);
    const indent = column(text, parent.items[0].key.range[0]);
    const last = parent.items.at(-1);
    return behind(text, last.value?.range ? last.value : last.key, indent,
                  `${flow(path.at(-1))}:${line}${' '.repeat(indent + 2)}${entryLines(key, value, indent + 2, line, inBlock)}`);
  }
  if (!place.node || (isScalar(place.node) && place.node.value === null)) {
    const indent = column(text, place.pair.key.range[0]) + 2;
    const colon = text.indexOf(':', place.pair.key.range[1]) + 1;
    return splice(text, colon, colon, line + ' '.repeat(indent) + entryLines(key, value, indent, line, inBlock));
  }
  const node = place.node;
  const last = node.items.at(-1);
  if (node.flow) {
    const entry = key === null ? flow(value) : `${flow(key)}: ${flow(value)}`;
    if (!last) return splice(text, node.range[0] + 1, node.range[0] + 1, entry);
    const end = contentEnd(text, isPair(last) ? last.value ?? last.key : last);
    return splice(text, end, end, `, ${entry}`);
  }
  if (isSeq(node)) {
    const indent = column(text, node.range[0]);
    return behind(text, last, indent, entryLines(null, value, indent, line, inBlock));
  }
  const indent = column(text, node.items[0].key.range[0]);
  return behind(text, last.value?.range ? last.value : last.key, indent, entryLines(key, value, indent, line, inBlock));
}

function replaced(text, place, value) {
  const {node, pair} = place;
  if (!node?.range) {
    const at = text.indexOf(':', pair.key.range[1]) + 1;
    return splice(text, at, at, ` ${flow(value)}`);
  }
  if (node.flow || isScalar(node)) return splice(text, node.range[0], contentEnd(text, node), flow(value));
  const begin = isPair(pair) && pair.value === node ? text.indexOf(':', pair.key.range[1]) + 1 : node.range[0];
  return splice(text, begin, contentEnd(text, node), `${begin === node.range[0] ? '' : ' '}${flow(value)}`);
}

function removed(text, place, step) {
  const {node, pair, parent} = place;
  const inMap = isMap(parent);
  const begin = inMap ? pair.key.range[0] : node.range[0];
  const end = node?.range ? contentEnd(text, node) : pair.key.range[1] + 1;
  if (parent.flow) {
    const after = /^\s*,\s*/.exec(text.slice(end));
    if (after) return splice(text, begin, end + after[0].length, '');
    const before = /,\s*$/.exec(text.slice(0, begin));
    return splice(text, begin - (before ? before[0].length : 0), end, '');
  }
  const first = inMap && parent.items[0] === pair && text.slice(lineBegin(text, begin), begin).trim() !== '';
  if (first || (!inMap && step < 0)) throw new Error('it stands first in its entry');
  return splice(text, lineBegin(text, begin), Math.min(lineEnd(text, end) + 1, text.length), '');
}

/** The text after a change, held to what the change means; by the writer of the YAML library where a splice fails. */
function held(text, splicing, meaning) {
  const document = parsed(text);
  if (!readable(document)) throw new Error('unreadable');
  const expected = parsed(text);
  meaning(expected);
  const wanted = JSON.stringify(expected.toJS());
  try {
    const made = splicing(text, document);
    const again = parsed(made);
    if (readable(again) && JSON.stringify(again.toJS()) === wanted) return made;
  } catch {
    // a way of writing that a splice does not know
  }
  return expected.toString({lineWidth: 0, flowCollectionPadding: false});
}

/** A new entry of a map, or with key null of a list; both are made where the file has none. */
export const withEntry = (text, path, key, value, inBlock = false) =>
    held(text, (of, document) => added(of, document, path, key, value, inBlock), (document) => {
      const at = document.getIn(path, true);
      if (key === null) {
        if (isSeq(at)) document.addIn(path, value);
        else document.setIn(path, document.createNode([value]));
      } else if (isMap(at)) {
        document.setIn([...path, key], value);
      } else {
        document.setIn(path, document.createNode({[key]: value}));
      }
    });

export const withValue = (text, path, value) => {
  const place = found(parsed(text), path);
  if (!place) return withEntry(text, path.slice(0, -1), path.at(-1), value);
  return held(text, (of, document) => replaced(of, found(document, path), value),
              (document) => document.setIn(path, value));
};

export const without = (text, path) => {
  if (!found(parsed(text), path)) return text;
  return held(text, (of, document) => removed(of, found(document, path), path.at(-1)),
              (document) => document.deleteIn(path));
};

/** A key written anew; its value stays. */
export const renamed = (text, path, name) => held(
    text,
    (of, document) => {
      const {key} = found(document, path).pair;
      return splice(of, key.range[0], key.range[1], flow(name));
    },
    (document) => { pairOf(document.getIn(path.slice(0, -1), true), path.at(-1)).key = document.createNode(name); });
