// What is drawn, written into the site's text: rooms, openings, storeys, radios.
import {beside, boxOf, moved, rectangle, rectOf, round, wallsMoved} from './geometry.mjs';
import {flow, renamed, withEntry, withValue, without} from './site_text.mjs';
import {sectionOf} from './sketch.mjs';
import {say} from './words.mjs';

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

export const storeyPath = (sketch) => ['storeys', sketch.storeyPosition];
export const storeyValues = (sketch) => sketch.values?.storeys?.[sketch.storeyPosition] ?? {};

/** A name that no other of its kind has. */
export function freeName(wanted, taken) {
  if (!taken.includes(wanted)) return wanted;
  for (let i = 2;; ++i) {
    if (!taken.includes(`${wanted} ${i}`)) return `${wanted} ${i}`;
  }
}

export const roomNames = (sketch) => sketch.here.rooms.map(({name}) => name);
export const radioNames = (sketch) => ['hubs', 'repeaters', 'devices'].flatMap((section) => Object.keys(sketch.values?.[section] ?? {}));

const shapeKey = (corners) => {
  const rect = rectOf(corners);
  return rect ? {rect_m: rect.map((value) => round(value, 0.001))} : {corners_m: corners.map((corner) => corner.map((value) => round(value, 0.001)))};
};

export const addRoom = (sketch, name, corners) => sketch.change(
    withEntry(sketch.text, [...storeyPath(sketch), 'rooms'], name, shapeKey(corners)));

export const addRoomBeside = (sketch, name, said) => sketch.change(withEntry(sketch.text, [...storeyPath(sketch), 'rooms'], name, said));

export const renameRoom = (sketch, name, newName) =>
    sketch.change(roomRenamed(sketch, sketch.text, [...storeyPath(sketch), 'rooms', name], name, newName));

/** What says where a room stands beside others. */
const BY_NEIGHBOURS = ['left_of', 'right_of', 'above', 'below', 'over', 'flush', 'shift_m', 'gap_m', 'front_m'];

/** Where a thing stands in the file, and what is said of it there; null: nowhere. */
function placed(sketch, {kind, name}) {
  if (kind === 'area') {
    const value = sketch.values?.areas?.[name];
    return value ? {path: ['areas', name], value} : null;
  }
  const storey = storeyValues(sketch);
  if (kind === 'room') return {path: [...storeyPath(sketch), 'rooms', name], value: storey.rooms?.[name] ?? null};
  const at = (storey[`${kind}s`] ?? []).findIndex((one) => one.name === name);
  return at < 0 ? null : {path: [...storeyPath(sketch), `${kind}s`, at], value: storey[`${kind}s`][at]};
}

const byCoordinates = (value) => Boolean(value?.rect_m || value?.corners_m || value?.from_m);

/** The corners of a room, an obstacle, an area; the ends of a single wall; null where there is none. */
export function cornersOf(sketch, {kind, name}) {
  const list = {room: sketch.here.rooms, obstacle: obstacles(sketch), wall: walls(sketch), area: areas(sketch)}[kind];
  return list?.find((one) => one.name === name)?.corners ?? null;
}

/** A shape's text by coordinates, in the place of whatever said it before. */
function shaped(text, path, value, corners) {
  const [[key, shape]] = Object.entries(shapeKey(corners));
  if (!value) return withEntry(text, path.slice(0, -1), path.at(-1), {[key]: shape});
  const before = ['rect_m', 'corners_m', 'size_m', 'in'].find((one) => one in value);
  let made = before && before !== key ? renamed(text, [...path, before], key) : text;
  made = withValue(made, [...path, key], shape);
  for (const one of BY_NEIGHBOURS) {
    if (one in value) made = without(made, [...path, one]);
  }
  return made;
}

/**
 * Other corners of a room, an obstacle, an area, other ends of a single wall. A room that was written by its neighbours is
 * written by coordinates, and with it what cannot stand beside such a room: the first room of all, the rooms of a grid.
 * @param shift  [x, y] that a room was moved by: its openings to the outside go with it
 */
export async function reshape(sketch, thing, corners, shift = null) {
  const {path, value} = placed(sketch, thing) ?? {};
  if (!path) return;
  if (thing.kind === 'wall') {
    return sketch.change(withValue(withValue(sketch.text, [...path, 'from_m'], corners[0]), [...path, 'to_m'], corners[1]));
  }
  if (thing.kind !== 'room' || byCoordinates(value)) {
    let text = shaped(sketch.text, path, value, corners);
    if (thing.kind === 'area' && !value.storey) text = withValue(text, [...path, 'storey'], sketch.storey);
    if (thing.kind !== 'room') return sketch.change(text);
    if (shift) return sketch.change(withOpenings(sketch, text, thing.name, shift));
    return withWalls(sketch, text, thing.name, corners);
  }
  const storey = storeyValues(sketch);
  let text = sketch.text;
  const also = sketch.here.rooms.filter(({name}) => {
    const said = storey.rooms?.[name];
    return name !== thing.name && !byCoordinates(said) && (storey.grid || !BY_NEIGHBOURS.some((one) => one in (said ?? {})));
  });
  text = shaped(text, path, value, corners);
  for (const room of also) {
    text = shaped(text, [...storeyPath(sketch), 'rooms', room.name], storey.rooms?.[room.name] ?? null, room.corners);
  }
  if (storey.grid) text = without(text, [...storeyPath(sketch), 'grid']);
  await sketch.change(shift ? withOpenings(sketch, text, thing.name, shift) : text);
  sketch.tell(say('now_coordinates', {rooms: [thing.name, ...also.map(({name}) => name)].join(', ')}));
}

/** Openings between a room and the outside, moved with it. */
function withOpenings(sketch, text, room, [dx, dy]) {
  let made = text;
  (storeyValues(sketch).openings ?? []).forEach(({between = [], at_m}, i) => {
    if (!at_m || !between.includes(room) || !between.includes('outside')) return;
    made = withValue(made, [...storeyPath(sketch), 'openings', i, 'at_m'], moved([at_m], dx, dy)[0]);
  });
  return made;
}

/** A wall that is moved takes its openings along, and the rooms beyond it that have no wall there but this. */
async function withWalls(sketch, text, name, after) {
  const storey = storeyValues(sketch), {rooms} = sketch.here;
  const before = rooms.find((room) => room.name === name).corners;
  const walls = rectOf(before) && rectOf(after) ? wallsMoved(boxOf(before), boxOf(after)) : [];
  const boxes = new Map(rooms.filter((room) => room.name !== name && storey.rooms[room.name]?.rect_m).map((room) => [room.name, boxOf(room.corners)]));
  const also = new Set();
  let made = text;
  for (const {edge, across, takes, holds, to} of walls) {
    for (const [other, box] of boxes) {
      if (!takes(box)) continue;
      const follows = box.map((value, i) => (i === across ? to : value));
      if (follows[2] - follows[0] < 0.1 || follows[3] - follows[1] < 0.1) continue;
      boxes.set(other, follows);
      also.add(other);
    }
    (storey.openings ?? []).forEach(({between = [], at_m}, i) => {
      if (!Array.isArray(at_m) || !between.includes(name) || !holds(at_m)) return;
      made = withValue(made, [...storeyPath(sketch), 'openings', i, 'at_m'], at_m.map((value, i) => (i === edge % 2 ? to : value)));
    });
  }
  for (const other of also) {
    const [x, y, right, top] = boxes.get(other);
    const corners = rectangle([x, y, round(right - x, 0.001), round(top - y, 0.001)]);
    made = shaped(made, [...storeyPath(sketch), 'rooms', other], storey.rooms[other], corners);
  }
  await sketch.change(made);
  if (also.size > 0) sketch.tell(say('wall_shared', {rooms: [...also].join(', ')}));
}

/** Another size of a room that is written by its neighbours, as it is written. @returns false where it has none */
export async function resize(sketch, name, [width, depth], corners) {
  const {path, value} = placed(sketch, {kind: 'room', name});
  if (!value?.size_m) return false;
  const [, , wide, deep] = rectOf(corners);
  const size = [value.size_m[0] + width - wide, value.size_m[1] + depth - deep].map((one) => round(one, 0.001));
  await sketch.change(withValue(sketch.text, [...path, 'size_m'], size));
  return true;
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

export const obstacleNames = (sketch) => (storeyValues(sketch).obstacles ?? []).map(({name}) => name);

export const addObstacle = (sketch, name, corners, height_m, material) => sketch.change(
    withEntry(sketch.text, [...storeyPath(sketch), 'obstacles'], null, {name, ...shapeKey(corners), height_m, material}));

export const wallNames = (sketch) => (storeyValues(sketch).walls ?? []).map(({name}) => name);

export const addWall = (sketch, name, [from_m, to_m], made) => sketch.change(
    withEntry(sketch.text, [...storeyPath(sketch), 'walls'], null, {name, from_m, to_m, ...made}));

export const areaNames = (sketch) => Object.keys(sketch.values?.areas ?? {});

export const addArea = (sketch, name, profile, place) => sketch.change(withEntry(sketch.text, ['areas'], name, {profile, ...place}));

/** How far a radio may be moved: {within: room}, {within_m: corners}, {radius_m}; null: it stays. */
export function setMobility(sketch, kind, name, reach) {
  const path = [sectionOf(kind), name, 'may_move'];
  return sketch.change(reach ? withValue(sketch.text, path, reach) : without(sketch.text, path));
}

export const mobilityOf = (sketch, kind, name) => sketch.values?.[sectionOf(kind)]?.[name]?.may_move ?? null;

/** How far the metal behind a device is from its aerial; null: none is said. */
export const setMetal = (sketch, kind, name, gap_m) => {
  const path = [sectionOf(kind), name, 'mount'];
  return sketch.change(gap_m === null ? without(sketch.text, path) : withValue(sketch.text, path, {on: 'metal', gap_m}));
};

export const metalOf = (sketch, kind, name) => sketch.values?.[sectionOf(kind)]?.[name]?.mount?.gap_m ?? '';

/** The same for the drawing, of what is selected: {corners}, {line} or {at, radius}; null: nothing is said. */
export function reachOf(sketch) {
  const {kind, name} = sketch.selected ?? {};
  const radio = sectionOf(kind) && sketch.radio(kind, name);
  const said = radio?.storey === sketch.storey ? mobilityOf(sketch, kind, name) : null;
  if (!said) return null;
  if (said.radius_m !== undefined) return {at: radio.at, radius: said.radius_m};
  if (said.along_m) return {line: said.along_m};
  const corners = said.within_m ?? cornersOf(sketch, {kind: 'room', name: said.within});
  return corners ? {corners} : null;
}

export const addStorey = (sketch, name, height_m) => sketch.change(withEntry(sketch.text, ['storeys'], null, {name, height_m}, true));

export const addRadio = (sketch, kind, name, value) => sketch.change(withEntry(sketch.text, [sectionOf(kind)], name, value));

export const setName = (sketch, name) => sketch.change(withValue(sketch.text, ['site'], name));

const SECTIONS = {hubs: 'hub', repeaters: 'repeater', devices: 'device', areas: 'area', rooms: 'room', openings: 'opening', obstacles: 'obstacle', walls: 'wall'};

/** What a path of the site file is about, where the plan has it: {kind, name, storey}; null: nothing of the plan. */
export function thingAt(path, values) {
  const steps = (path ?? '').split('/').slice(1).map((step) => step.replaceAll('~1', '/').replaceAll('~0', '~'));
  const [storey, section, name] = steps[0] === 'storeys' ? steps.slice(1) : [null, ...steps];
  const kind = SECTIONS[section];
  if (!kind || name === undefined) return null;
  if (storey === null) return {kind, name, storey: values?.[section]?.[name]?.storey};
  const list = values?.storeys ?? [], of = list.find((one) => String(one.name) === storey) ?? list[Number(storey)];
  const entries = of?.[section], found = Array.isArray(entries) ? entries.find((one) => String(one.name) === name) ?? entries[Number(name)] : entries?.[name] && {name};
  return found?.name === undefined ? null : {kind, name: String(found.name), storey: of.name};
}

/** What is selected, taken out. */
export async function remove(sketch, {kind, name}) {
  if (sectionOf(kind)) {
    const section = sketch.values?.[sectionOf(kind)] ?? {};
    const only = Object.keys(section).length === 1;
    await sketch.change(without(sketch.text, only ? [sectionOf(kind)] : [sectionOf(kind), name]));
  } else if (kind === 'area') {
    await sketch.change(without(sketch.text, areaNames(sketch).length === 1 ? ['areas'] : ['areas', name]));
  } else if (kind === 'opening' || kind === 'obstacle' || kind === 'wall') {
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

/** Obstacles of the storey: [{name, corners}]. */
export const obstacles = (sketch) => (storeyValues(sketch).obstacles ?? [])
    .map(({name, rect_m, corners_m}) => ({name, corners: corners_m ?? (rect_m?.length === 4 ? rectangle(rect_m) : null)}))
    .filter(({corners}) => Array.isArray(corners));

/** Single walls of the storey: [{name, corners: [from, to]}]. */
export const walls = (sketch) => (storeyValues(sketch).walls ?? [])
    .filter(({from_m, to_m}) => from_m?.length === 2 && to_m?.length === 2)
    .map(({name, from_m, to_m}) => ({name, corners: [from_m, to_m]}));

/** Areas of remotes on the storey: [{name, corners}]. */
export const areas = (sketch) => (sketch.opened?.areas ?? [])
    .filter(({storey}) => storey === sketch.storey)
    .map(({name, corners_m}) => ({name, corners: corners_m}));
