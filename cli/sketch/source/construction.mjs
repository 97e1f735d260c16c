// What walls are made of: what the site file says, what follows where it says nothing, and another make written into it.
import {storeyPath, storeyValues} from './drawing.mjs';
import {kindOf, openingSaid} from './openings.mjs';
import {withEntry, withValue, without} from './site_text.mjs';
import {nameOf, say, shown} from './words.mjs';
/* global CONSTRUCTIONS, KINDS, MATERIALS */

const UNSTATED_M = 0.1;  // what the program draws and adds where no thickness is known

/** {material, thickness_m} of a wall as the file writes it: `brick 0.215 m`, or with keys; null where it is none. */
function makeOf(said) {
  if (typeof said === 'string') {
    const [, material, thickness] = /^(.*?)(?:\s+([\d.]+)\s*m)?$/.exec(said.trim());
    return {material, thickness_m: thickness === undefined ? undefined : Number(thickness)};
  }
  return said?.material ? {material: said.material, thickness_m: said.thickness_m} : null;
}

export const thicknessOf = ({material, thickness_m}) => thickness_m ?? MATERIALS.layers[material] ?? UNSTATED_M;

export const makeText = (make) => (make.material === 'none' ? say('no_wall')
                                                            : say('made_of_thick', {material: nameOf('material', make.material), thickness: shown(thicknessOf(make))}));

/** The loss of a material at a frequency, interpolated over its logarithm; null where it follows from the thickness. */
function lossOf(material, mhz) {
  const points = MATERIALS.losses[material];
  if (!points) return null;
  const above = points.findIndex(([at]) => at >= mhz);
  if (above <= 0) return (above < 0 ? points.at(-1) : points[0])[1];
  const [[low, from], [high, to]] = points.slice(above - 1, above + 1);
  return from + (to - from) * Math.log(mhz / low) / Math.log(high / low);
}

/** A material in a list, with what tells it from those that are named alike. */
export function materialText(sketch, material) {
  const loss = lossOf(material, sketch.values?.radio?.frequency_mhz ?? 868.3), name = nameOf('material', material);
  if (loss !== null) return say('material_loss', {material: name, loss: shown(Math.round(10 * loss) / 10)});
  const thickness = MATERIALS.layers[material];
  return thickness ? say('material_layers', {material: name, thickness: shown(thickness)}) : say('material_by_thickness', {material: name});
}

export const materialChoices = (sketch, names) => names.map((value) => ({value, text: materialText(sketch, value)}))
                                                       .sort((one, other) => one.text.localeCompare(other.text));

const WALLS = {outer: 'outer_wall', inner: 'inner_wall'};

/** Where the usual wall is said or would be: of the storey, where that says how it is built; else of the house. */
export function usualPlace(sketch, which) {
  const storey = storeyValues(sketch), key = WALLS[which];
  return storey[key] || storey.construction ? {path: [...storeyPath(sketch), key], said: storey[key]} : {path: [key], said: sketch.values?.[key]};
}

/** The wall that follows from how the house, or the storey, is built; null: it does not say. */
export function built(sketch, which) {
  const storey = storeyValues(sketch);
  return CONSTRUCTIONS[storey.construction ?? sketch.values?.construction]?.[WALLS[which]] ?? null;
}

/** The usual outer or inner wall of the storey; of rooms, where these say their own. */
export function usual(sketch, which, rooms = []) {
  const storey = storeyValues(sketch), key = WALLS[which];
  const own = rooms.map((name) => storey.rooms?.[name]).map((room) => room?.[key] ?? room?.walls).find(Boolean);
  return makeOf(own ?? storey[key] ?? (storey.construction ? null : sketch.values?.[key])) ?? built(sketch, which);
}

/** Another usual wall; no material: as the house is built. */
export function setUsual(sketch, which, make) {
  const {path, said} = usualPlace(sketch, which);
  if (!make) return said === undefined ? null : sketch.change(without(sketch.text, path));
  return sketch.change(withValue(sketch.text, path, whole(make)));
}

/** With a thickness where the material cannot do without one. */
function whole({material, thickness_m}) {
  const needed = thickness_m ?? (MATERIALS.thick.includes(material) ? UNSTATED_M : undefined);
  return needed === undefined ? {material} : {material, thickness_m: needed};
}

const boundaries = (sketch) => storeyValues(sketch).boundaries ?? [];
const isBetween = (a, b) => ({between = []}) => between.includes(a) && between.includes(b);

/** What the file says of the wall between two rooms, or a room and the outside; null: nothing of its own. */
export const wallBetween = (sketch, a, b) => makeOf(boundaries(sketch).find(isBetween(a, b)));

export const usualBetween = (sketch, a, b) =>
    (b === 'outside' ? usual(sketch, 'outer', [a]) : usual(sketch, 'inner', [a, b]));

/** Another wall between two rooms than the usual one; no make: the usual one. */
export function setWall(sketch, a, b, make) {
  const list = boundaries(sketch), at = list.findIndex(isBetween(a, b));
  const path = [...storeyPath(sketch), 'boundaries'];
  if (!make) return at < 0 ? null : sketch.change(without(sketch.text, list.length === 1 ? path : [...path, at]));
  const {material, thickness_m} = whole(make);
  if (at < 0) return sketch.change(withEntry(sketch.text, path, null, {between: [a, b], ...whole(make)}));
  let text = withValue(sketch.text, [...path, at, 'material'], material);
  text = thickness_m ? withValue(text, [...path, at, 'thickness_m'], thickness_m) : without(text, [...path, at, 'thickness_m']);
  return sketch.change(text);
}

const roomPath = (sketch, room) => [...storeyPath(sketch), 'rooms', room];

/** Whether a room is written with keys of its own, beside which more can be said: not one of a grid. */
export const hasKeys = (sketch, room) => typeof (storeyValues(sketch).rooms?.[room] ?? '') === 'object';

/** What the file says of the walls of a room to other rooms; null: nothing of its own. */
export const innerWallOf = (sketch, room) => makeOf(storeyValues(sketch).rooms[room].inner_wall);

/** Other walls of a room to other rooms; no make: the usual ones. */
export function setInnerWall(sketch, room, make) {
  const path = [...roomPath(sketch, room), 'inner_wall'];
  return sketch.change(make ? withValue(sketch.text, path, whole(make)) : without(sketch.text, path));
}

export const setConstruction = (sketch, name) =>
    sketch.change(name ? withValue(sketch.text, ['construction'], name) : without(sketch.text, ['construction']));

/** How high the rooms of the storey are, floor to ceiling. */
export const setCeiling = (sketch, height_m) => sketch.change(withValue(sketch.text, [...storeyPath(sketch), 'height_m'], height_m));

/** What closes an opening, as it looks on the plan: `metal`, `window`, `door` or `hole`; null: not known. */
export function leafLooks(sketch, name) {
  const said = openingSaid(sketch, name);
  const leaf = said && (makeOf(said.leaf)?.material ?? KINDS[kindOf(said)]?.leaf);
  if (!leaf || leaf === 'none') return leaf && 'hole';
  return MATERIALS.metal.includes(leaf) ? 'metal' : MATERIALS.glass.includes(leaf) ? 'window' : 'door';
}
