// What is drawn, written into the site's text: rooms, openings, storeys, radios.
import {beside, round} from './geometry.mjs';
import {flow, renamed, withEntry, withValue, without} from './site_text.mjs';
import {sectionOf} from './sketch.mjs';

/** A first site with nothing in it. */
export const emptySite = (name, storey) => `# Sizes in metres, x to the right and y up the sheet.
site: ${flow(name)}
radio: {frequency_mhz: 868.3}
reading:               # how the equipment turns a level into percent: see its manual, or calibrate
  zero_dbm: -105
  full_dbm: -30
  weak_below_percent: 40
construction: brick 1930s
storeys:
  - name: ${flow(storey)}
    height_m: 2.5
`;

const storeyPath = (sketch) => ['storeys', sketch.storeyPosition];
const storeyValues = (sketch) => sketch.values?.storeys?.[sketch.storeyPosition] ?? {};

/** A name that no other of its kind has. */
export function freeName(wanted, taken) {
  if (!taken.includes(wanted)) return wanted;
  for (let i = 2;; ++i) {
    if (!taken.includes(`${wanted} ${i}`)) return `${wanted} ${i}`;
  }
}

export const roomNames = (sketch) => sketch.here.rooms.map(({name}) => name);
export const radioNames = (sketch) => ['hubs', 'repeaters', 'devices'].flatMap((section) => Object.keys(sketch.values?.[section] ?? {}));

export const addRoom = (sketch, name, [x, y, width, depth]) => sketch.change(
    withEntry(sketch.text, [...storeyPath(sketch), 'rooms'], name, {rect_m: [x, y, width, depth].map((v) => round(v, 0.001))}));

/** The rectangle of a room as it was typed; null for one of another shape or by its neighbours. */
export function rectOf(sketch, name) {
  const rect = storeyValues(sketch).rooms?.[name]?.rect_m;
  return Array.isArray(rect) && rect.length === 4 ? rect : null;
}

export async function changeRoom(sketch, name, {newName, rect, material}) {
  const path = [...storeyPath(sketch), 'rooms', name];
  let text = sketch.text;
  const before = rectOf(sketch, name);
  if (rect && before && rect.some((value, i) => value !== before[i])) text = withValue(text, [...path, 'rect_m'], rect);
  if (material !== undefined) {
    text = material ? withValue(text, [...path, 'outer_wall'], material) : without(text, [...path, 'outer_wall']);
  }
  if (newName && newName !== name) text = roomRenamed(sketch, text, path, name, newName);
  await sketch.change(text);
}

/** The room's new name, also where openings, walls and radios say it. */
function roomRenamed(sketch, text, path, name, newName) {
  let made = renamed(text, path, newName);
  const storey = storeyValues(sketch);
  for (const list of ['openings', 'boundaries']) {
    (storey[list] ?? []).forEach((item, i) => {
      (item.between ?? []).forEach((room, j) => {
        if (room === name) made = withValue(made, [...storeyPath(sketch), list, i, 'between', j], newName);
      });
      if (item.in === name) made = withValue(made, [...storeyPath(sketch), list, i, 'in'], newName);
    });
  }
  for (const section of ['hubs', 'repeaters', 'devices']) {
    for (const [radio, value] of Object.entries(sketch.values?.[section] ?? {})) {
      if (value?.in === name) made = withValue(made, [section, radio, 'in'], newName);
      if (value?.may_move?.within === name) made = withValue(made, [section, radio, 'may_move', 'within'], newName);
    }
  }
  return made;
}

/** Another wall between two rooms than the storey's usual one; no material: the usual one. No thickness: none is said. */
export function setWall(sketch, a, b, material, thickness_m) {
  const list = storeyValues(sketch).boundaries ?? [];
  const at = list.findIndex(({between = []}) => between.includes(a) && between.includes(b));
  const path = [...storeyPath(sketch), 'boundaries'];
  const made = {material, ...(thickness_m ? {thickness_m} : {})};
  if (at < 0) return material ? sketch.change(withEntry(sketch.text, path, null, {between: [a, b], ...made})) : null;
  if (!material) return sketch.change(without(sketch.text, list.length === 1 ? path : [...path, at]));
  let text = withValue(sketch.text, [...path, at, 'material'], material);
  text = thickness_m ? withValue(text, [...path, at, 'thickness_m'], thickness_m) : without(text, [...path, at, 'thickness_m']);
  return sketch.change(text);
}

export const addOpening = (sketch, name, kind, piece, at_m, sizes = {}) => sketch.change(
    withEntry(sketch.text, [...storeyPath(sketch), 'openings'], null, {name, kind, between: [piece.a, piece.b], at_m, ...sizes}));

export const openingNames = (sketch) => (storeyValues(sketch).openings ?? []).map(({name}) => name);

export const obstacleNames = (sketch) => (storeyValues(sketch).obstacles ?? []).map(({name}) => name);

export const addObstacle = (sketch, name, [x, y, width, depth], height_m, material) => sketch.change(
    withEntry(sketch.text, [...storeyPath(sketch), 'obstacles'], null,
              {name, rect_m: [x, y, width, depth].map((v) => round(v, 0.001)), height_m, material}));

/** How far a radio may be moved: {within: room}, {radius_m}; null: it stays. */
export function setMobility(sketch, kind, name, reach) {
  const path = [sectionOf(kind), name, 'may_move'];
  return sketch.change(reach ? withValue(sketch.text, path, reach) : without(sketch.text, path));
}

export const mobilityOf = (sketch, kind, name) => sketch.values?.[sectionOf(kind)]?.[name]?.may_move ?? null;

export const addStorey = (sketch, name, height_m) => sketch.change(withEntry(sketch.text, ['storeys'], null, {name, height_m}, true));

export const addRadio = (sketch, kind, name, value) => sketch.change(withEntry(sketch.text, [sectionOf(kind)], name, value));

export const setName = (sketch, name) => sketch.change(withValue(sketch.text, ['site'], name));

export const setConstruction = (sketch, name) => sketch.change(withValue(sketch.text, ['construction'], name));

/** What is selected, taken out. */
export async function remove(sketch, {kind, name}) {
  if (sectionOf(kind)) {
    const section = sketch.values?.[sectionOf(kind)] ?? {};
    const only = Object.keys(section).length === 1;
    await sketch.change(without(sketch.text, only ? [sectionOf(kind)] : [sectionOf(kind), name]));
  } else if (kind === 'opening' || kind === 'obstacle') {
    const list = storeyValues(sketch)[`${kind}s`] ?? [];
    const path = [...storeyPath(sketch), `${kind}s`];
    const at = list.findIndex((one) => one.name === name);
    if (at >= 0) await sketch.change(without(sketch.text, list.length === 1 ? path : [...path, at]));
  } else if (kind === 'room') {
    await sketch.change(textWithoutRoom(sketch, name));
  }
  sketch.select(null);
}

/** A room goes with its openings and the walls that are said of it. */
function textWithoutRoom(sketch, name) {
  const storey = storeyValues(sketch), path = storeyPath(sketch);
  let text = sketch.text;
  for (const list of ['openings', 'boundaries']) {
    const items = storey[list] ?? [];
    const goes = (item) => item.in === name || (item.between ?? []).includes(name);
    if (items.length > 0 && items.every(goes)) {
      text = without(text, [...path, list]);
      continue;
    }
    for (let i = items.length - 1; i >= 0; --i) {
      if (goes(items[i])) text = without(text, [...path, list, i]);
    }
  }
  const only = Object.keys(storey.rooms ?? {}).length === 1;
  return without(text, only ? [...path, 'rooms'] : [...path, 'rooms', name]);
}

/** Where a room of a size stands beside another. */
export function rectBeside(sketch, of, side, width, depth) {
  const room = sketch.here.rooms.find(({name}) => name === of);
  return [...(room ? beside(room.corners, side, width, depth) : [0, 0]), width, depth];
}

/** Obstacles that are typed as rectangles, for the drawing. */
export const obstacles = (sketch) => (storeyValues(sketch).obstacles ?? [])
    .filter(({rect_m}) => Array.isArray(rect_m) && rect_m.length === 4)
    .map(({name, rect_m: [x, y, w, d]}) => ({name, corners: [[x, y], [x + w, y], [x + w, y + d], [x, y + d]]}));
