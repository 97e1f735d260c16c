// Doors and windows, written into the site's text.
import {storeyPath, storeyValues} from './drawing.mjs';
import {round, sideOf} from './geometry.mjs';
import {faceBeyond, measuresInside} from './inside.mjs';
import {withEntry, withValue, without} from './site_text.mjs';
/* global KINDS, MATERIALS */

/** Openings of a storey that nothing closes, as the file says them. */
export const holesOf = ({openings}) => (openings ?? []).map((one) => ({...one, kind: kindOf(one)}))
    .filter(({kind, leaf}) => (leaf?.material ?? leaf ?? KINDS[kind]?.leaf) === 'none')
    .map(({name, at_m, kind, width_m}) => ({name, at_m, width_m: width_m ?? KINDS[kind]?.width_m ?? 1}));

/** @param width  of the opening, m. @param more  what else the file says of it */
export function addOpening(sketch, name, kind, piece, at_m, width, more = {}) {
  const said = (measuresInside(sketch) && byWall(sketch, piece, at_m, width)) || {between: [piece.a, piece.b], at_m};
  return sketch.change(withEntry(sketch.text, [...storeyPath(sketch), 'openings'], null, {name, kind, ...said, ...more}));
}

/**
 * A place by the wall and the distance from its left or lower end, which follows the walls as these are added to sizes measured inside;
 * null: the wall cannot be said without its place.
 */
function byWall(sketch, piece, at_m, width) {
  const {a, b, from} = piece, side = sideOf(piece, sketch.here.rooms);
  const alike = sketch.pieces.filter((one) => one.a === a && one.b === b && (b !== 'outside' || sideOf(one, sketch.here.rooms) === side));
  if (alike.length > 1) return null;
  const axis = side === 'top' || side === 'bottom' ? 0 : 1;
  const face = faceBeyond(sketch, from, axis);
  return {...(b === 'outside' ? {in: a, wall: side} : {between: [a, b]}),
          [axis === 0 ? 'from_left_m' : 'from_bottom_m']: Math.max(0, round(at_m[axis] - from[axis] - width / 2 - face))};
}

/** What the file says of an opening; null: there is none of that name. */
export const openingSaid = (sketch, name) => (storeyValues(sketch).openings ?? []).find((one) => one.name === name) ?? null;

/** The kind of an opening: said, or what its name ends in; null: neither. */
export const kindOf = ({kind, name}) => kind ?? Object.keys(KINDS).filter((one) => String(name).endsWith(one))
                                                      .sort((one, other) => other.length - one.length)[0] ?? null;

/** Another name, kind, leaf ('' or null: the usual one of its kind), width or place. Devices on it take over a new name. */
export function changeOpening(sketch, name, {newName, kind, leaf, ...numbers}) {
  const said = openingSaid(sketch, name), at = storeyValues(sketch).openings.indexOf(said);
  const path = [...storeyPath(sketch), 'openings', at];
  let text = sketch.text;
  const set = (key, value) => { text = withValue(text, [...path, key], value); };
  for (const [key, value] of Object.entries(numbers)) set(key, value);
  if (numbers.at_m) for (const key of ['from_left_m', 'from_right_m', 'from_bottom_m', 'from_top_m']) text = without(text, [...path, key]);
  if (kind) set('kind', kind);
  if (leaf) {
    set('leaf', leaf);
    if (MATERIALS.thick.includes(leaf)) set('leaf_thickness_m', said.leaf_thickness_m ?? 0.04);
    else text = without(text, [...path, 'leaf_thickness_m']);
  } else if (leaf !== undefined) {
    text = without(without(text, [...path, 'leaf']), [...path, 'leaf_thickness_m']);
  }
  if (newName && newName !== name) {
    if (!said.kind && kindOf(said)) set('kind', kindOf(said));
    set('name', newName);
    for (const section of ['hubs', 'repeaters', 'devices'])
      for (const [radio, value] of Object.entries(sketch.values?.[section] ?? {}))
        if (value?.on === name) text = withValue(text, [section, radio, 'on'], newName);
  }
  return sketch.change(text);
}

export const openingNames = (sketch) => (storeyValues(sketch).openings ?? []).map(({name}) => name);
