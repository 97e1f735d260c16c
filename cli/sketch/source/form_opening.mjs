// Doors and windows: put in, and changed.
import {materialText} from './construction.mjs';
import {field, make} from './dom.mjs';
import {freeName} from './drawing.mjs';
import {applied, button, choice, size, text} from './fields.mjs';
import {alongPiece, lengthOf, nearestPiece, openingAt, round, sideOf} from './geometry.mjs';
import {addOpening, changeOpening, kindOf, openingNames, openingSaid} from './openings.mjs';
import {figure, nameOf, say, shown} from './words.mjs';
/* global KINDS, MATERIALS */

const leafText = (sketch, leaf) => (leaf === 'none' ? say('no_leaf') : materialText(sketch, leaf));

/** Kinds of openings with what closes them. */
const kindChoices = (sketch) => Object.entries(KINDS)
    .map(([value, {leaf}]) => ({value, text: say('kind_of', {kind: nameOf('kind', value), leaf: leafText(sketch, leaf)})}))
    .sort((one, other) => one.text.localeCompare(other.text));

export class OpeningForm {
  constructor(forms) { Object.assign(this, {forms, sketch: forms.sketch}); }

  fields() {
    const {forms, sketch} = this;
    const pieces = sketch.pieces;
    forms.submits(async (values) => {
      const piece = pieces[values.piece];
      if (!piece) return sketch.tell(say('no_walls'));
      const from = values.from.trim() === '' ? lengthOf(piece) / 2 : forms.numbers(values, 'from')?.[0];
      if (from !== undefined && this.#isOn(piece, from)) await this.add(values, piece, from / lengthOf(piece));
    });
    const named = pieces.map((piece, value) => {
      const b = piece.b === 'outside' ? say('outside') : piece.b;
      return {value, text: say('wall_of', {a: piece.a, b, length: shown(round(lengthOf(piece)))}) +
                           (piece.b === 'outside' ? `, ${say(`side_${sideOf(piece, sketch.here.rooms)}`)}` : '')};
    });
    const wall = choice('piece', named);
    const mark = () => forms.mark(null, pieces[wall.value]);
    wall.addEventListener('change', mark);
    mark();
    return [
      field(say('kind'), choice('kind', kindChoices(sketch), this.lastKind ?? 'inner door')),
      field(say('wall'), wall),
      field(say('from_end'), size('from')),
      field(say('opening_width'), size('width')),
      field(say('name_if'), text('name', '', {maxLength: 60})),
      button(say('add_opening')),
    ];
  }

  /** Whether a place counted from its end is on a piece of wall; says so where it is not. */
  #isOn(piece, from) {
    if (from >= 0 && from <= lengthOf(piece)) return true;
    this.sketch.tell(say('off_wall', {from: figure(from, 2), length: figure(lengthOf(piece), 2)}));
    return false;
  }

  async add(values, piece, share, step = 0.01) {
    const {forms, sketch} = this;
    this.lastKind = values.kind;
    const width = values.width.trim() === '' ? null : forms.numbers(values, 'width')?.[0];
    if (width === undefined) return;
    const needed = width ?? KINDS[values.kind].width_m, length = lengthOf(piece);
    if (needed > length) return sketch.tell(say('wall_too_short', {length: figure(length, 2), width: figure(needed, 2)}));
    const at = openingAt(piece, share, needed, step);
    const room = piece.b === 'outside' ? piece.a : piece.b, kind = nameOf('kind', values.kind);
    const wanted = values.name.trim() || (kind.toLowerCase().startsWith(room.toLowerCase()) ? kind : `${room} ${kind}`);
    const name = freeName(wanted, openingNames(sketch));
    await addOpening(sketch, name, values.kind, piece, at, needed, width ? {width_m: width} : {});
    sketch.select({kind: 'opening', name});
    forms.show();
  }

  /** Name, kind, what closes it, width, and where along its wall it is. */
  change(name) {
    const {forms, sketch} = this;
    const opening = sketch.here.openings.find((one) => one.name === name), said = openingSaid(sketch, name);
    if (!said) return [];
    // One that the plan has no place for is shown without it.
    const kind = kindOf(said), width = opening ? lengthOf(opening) : said.width_m ?? KINDS[kind]?.width_m ?? 0;
    const {piece, along} = (opening && alongPiece(sketch.pieces, opening)) ?? {};
    const kinds = applied(choice('kind', [...(kind ? [] : [{value: '', text: say('own_kind')}]), ...kindChoices(sketch)], kind ?? ''),
                          (value) => value && changeOpening(sketch, name, {kind: value}));
    const leaf = said.leaf?.material ?? said.leaf ?? '';
    const leaves = applied(choice('leaf', [
      {value: '', text: say('usual_make', {make: leafText(sketch, KINDS[kind]?.leaf ?? 'none')})}, {value: 'none', text: say('no_leaf')},
      ...MATERIALS.leaf.map((value) => ({value, text: materialText(sketch, value)})).sort((one, other) => one.text.localeCompare(other.text))],
                                  String(leaf)), (value) => changeOpening(sketch, name, {leaf: value}));
    forms.submits(async (values) => {
      const numbers = forms.numbers(values, 'width', ...(piece ? ['from'] : []));
      if (!numbers) return;
      const [wide, from] = numbers, newName = values.name.trim();
      const isMoved = piece && Math.abs(from - along) > 0.004;
      if (isMoved && !this.#isOn(piece, from)) return;
      await changeOpening(sketch, name, {
        newName, ...(Math.abs(wide - round(width)) > 1e-6 ? {width_m: wide} : {}),
        ...(isMoved ? {at_m: openingAt(piece, from / lengthOf(piece), wide)} : {})});
      sketch.select({kind: 'opening', name: newName || name});
    });
    const isAcross = piece && Math.abs(piece.to[0] - piece.from[0]) >= Math.abs(piece.to[1] - piece.from[1]);
    return [
      make('h3', {textContent: name}),
      field(say('kind'), kinds), field(say('leaf'), leaves),
      field(say('name'), text('name', name, {required: true, maxLength: 60})),
      field(say('opening_width'), size('width', String(round(width)))),
      ...(piece ? [field(isAcross ? say('from_left') : say('from_bottom'), size('from', String(along)))] : []),
      button(say('change')),
    ];
  }

  /** The middle of an opening after a slide along its wall, and within it. */
  slid(opening, by) {
    const {piece, share} = alongPiece(this.sketch.pieces, opening) ?? {};
    return piece && openingAt(piece, share + by / lengthOf(piece), lengthOf(opening));
  }

  /** An opening clicked on the plan, onto the wall nearest to it. */
  put(at, reach) {
    const near = nearestPiece(this.sketch.pieces, at);
    if (!near || near.distance > reach) return this.sketch.tell(say('how_opening'));
    this.add(this.forms.values(), near.piece, near.share, 0.05);
  }
}
