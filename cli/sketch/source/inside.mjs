// Sizes measured inside, between the walls, as a laser measures them: rooms are written by size and neighbour (`measured: inside`), and
// the program adds the walls.
import {thicknessOf, usual} from './construction.mjs';
import {addRoomBeside, storeyPath, storeyValues} from './drawing.mjs';
import {boxOf, rectOf, round} from './geometry.mjs';
import {withValue, without} from './site_text.mjs';

const NEAR_M = 0.02;
const BESIDE = {left: 'left_of', right: 'right_of', top: 'above', bottom: 'below'};

const measuredPath = (sketch) => (storeyValues(sketch).measured ? [...storeyPath(sketch), 'measured'] : ['measured']);

export const measuresInside = (sketch) => (storeyValues(sketch).measured ?? sketch.values?.measured) === 'inside';

export const setInside = (sketch, is) => {
  const path = measuredPath(sketch);
  return sketch.change(is || path.length > 1 ? withValue(sketch.text, path, is ? 'inside' : 'middle') : without(sketch.text, path));
};

const usualThickness = (sketch, which) => {
  const make = usual(sketch, which);
  return make ? thicknessOf(make) : 0.1;
};

/** How thick the wall on an edge of a box is: of the longest wall there, or what it would be. @param edge  0 left, 1 bottom, 2 right, 3 top */
function thicknessAt(sketch, box, edge) {
  const across = edge % 2, along = 1 - across, at = box[edge];
  const overlap = (low, high) => Math.min(box[along + 2], high) - Math.max(box[along], low);
  let longest = NEAR_M, found = null;
  for (const {from, to, thickness} of sketch.here.walls) {
    if (Math.abs(from[across] - at) > NEAR_M || Math.abs(to[across] - at) > NEAR_M) continue;
    const length = overlap(Math.min(from[along], to[along]), Math.max(from[along], to[along]));
    if (length > longest) [longest, found] = [length, thickness];
  }
  return found ?? usualThickness(sketch, 'outer');
}

/** How far the face of the wall that crosses at the end of another is from its middle. @param axis  along which that other runs */
export function faceBeyond(sketch, at, axis) {
  const crossing = sketch.here.walls.filter(({from, to}) => Math.abs(from[axis] - to[axis]) < NEAR_M && [from, to].some(
      (end) => Math.hypot(end[0] - at[0], end[1] - at[1]) < NEAR_M));
  return Math.max(0, ...crossing.map(({thickness}) => thickness / 2));
}

/** Width and depth of a box on the middle of the walls, between these walls. */
export function between(sketch, box) {
  const [left, bottom, right, top] = [0, 1, 2, 3].map((edge) => thicknessAt(sketch, box, edge) / 2);
  return [box[2] - box[0] - left - right, box[3] - box[1] - bottom - top].map((size) => Math.max(0, round(size, 0.001)));
}

/** Width and depth of a room between its walls, where sizes are said so; else null. */
export function insideSize(sketch, name) {
  const corners = sketch.here.rooms.find((room) => room.name === name)?.corners;
  if (!measuresInside(sketch) || !corners || !rectOf(corners)) return null;
  return storeyValues(sketch).rooms?.[name]?.size_m ?? between(sketch, boxOf(corners));
}

/** Sizes to the middle of outer walls, of a room that stands alone. */
export const withWalls = (sketch, sizes) => sizes.map((size) => round(size + usualThickness(sketch, 'outer'), 0.001));

/** The neighbours of a room that is drawn from a corner towards another, on one axis: the key, and how far it is shifted along them. */
function neighbour(rooms, {from, to}, axis) {
  const along = 1 - axis, forward = to[axis] > from[axis], upward = to[along] > from[along];
  for (const {name, corners} of rooms) {
    const box = boxOf(corners);
    if (!rectOf(corners) || Math.abs(box[forward ? axis + 2 : axis] - from[axis]) > NEAR_M) continue;
    const [low, high] = [from[along], to[along]].sort((p, q) => p - q);
    if (Math.min(high, box[along + 2]) - Math.max(low, box[along]) < NEAR_M) continue;
    const key = axis === 0 ? (forward ? 'right_of' : 'left_of') : (forward ? 'above' : 'below');
    const shift = round(from[along] - box[upward ? along : along + 2]);
    const flush = upward ? {} : {flush: axis === 0 ? 'top' : 'right'};
    return {of: {[key]: name}, beside: {...flush, ...(Math.abs(shift) > NEAR_M ? {shift_m: shift} : {})}};
  }
  return null;
}

/** What the file says of where the room is; null: it cannot be said by neighbours. */
function placeOf(sketch, where) {
  const {rooms} = sketch.here;
  if (where.side) return where.of ? {[BESIDE[where.side]]: where.of} : rooms.length === 0 && !sketch.below ? {} : null;
  if (rooms.length === 0) {
    if (!sketch.below) return {};
    const {from, to} = where;
    const over = sketch.below.rooms.find(({corners}) => boxOf(corners).slice(0, 2).every((value, i) => Math.abs(value - from[i]) < NEAR_M));
    return over && to[0] > from[0] && to[1] > from[1] ? {over: over.name} : null;
  }
  const [across, up] = [0, 1].map((axis) => neighbour(rooms, where, axis));
  if (across && up) return {...across.of, ...up.of};
  const one = across ?? up;
  return one && {...one.of, ...one.beside};
}

/**
 * A room with a size between the walls. @param where  {of, side}, or {from, to} while it is drawn
 * @returns false where it does not stand beside a room: it is then written by coordinates
 */
export async function addInside(sketch, name, sizes, where) {
  const place = placeOf(sketch, where);
  if (!place) return false;
  await addRoomBeside(sketch, name, {size_m: sizes, ...place});
  return true;
}
