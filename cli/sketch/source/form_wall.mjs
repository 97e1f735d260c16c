// Walls: the usual ones, one between two rooms, single ones.
import {field, make} from './dom.mjs';
import {
  built, hasKeys, innerWallOf, makeText, materialChoices, setInnerWall, setUsual, setWall, thicknessOf, usual, usualBetween, usualPlace, wallBetween,
} from './construction.mjs';
import * as drawing from './drawing.mjs';
import {applied, button, choice, note, size, text} from './fields.mjs';
import {sideOf, towards} from './geometry.mjs';
import {say, shown, typed} from './words.mjs';
/* global MATERIALS */

const ALL = '*';  // of a list of rooms: no room is named so

/**
 * Two fields that say what a wall is made of, each applied by itself.
 * @param names  of the fields, [material, thickness], and their labels
 * @param said   what is said of this wall, or null. @param follows  what it is else, or null. @param set  takes a make, or null
 */
function makeFields(sketch, names, labels, {said, follows, set, canBeNone = false}) {
  const material = choice(names[0], [
    {value: '', text: follows ? say('usual_make', {make: makeText(follows)}) : say('usual_unknown')},
    ...(canBeNone ? [{value: 'none', text: say('no_wall')}] : []), ...materialChoices(sketch, MATERIALS.wall)], said?.material ?? '');
  if (said && material.value !== said.material) material.append(make('option', {value: said.material, textContent: said.material, selected: true}));
  const thickness = size(names[1], said?.thickness_m ?? '', {placeholder: said ?? follows ? shown(thicknessOf(said ?? follows)) : ''});
  const now = said?.material === 'none' ? follows : said ?? follows;  // another material is as thick as this
  applied(material, (value) => set(value && {material: value, thickness_m: now && MATERIALS.thick.includes(value) ? thicknessOf(now) : undefined}));
  applied(thickness, (value) => {
    const thickness_m = typed(value), of = said?.material ?? follows?.material;
    if (value.trim() !== '' && !(thickness_m > 0)) return sketch.tell(say('no_number', {text: value}));
    if (of) set({material: of, thickness_m: value.trim() === '' ? undefined : thickness_m});
  });
  return [field(labels[0], material), field(labels[1], thickness)];
}

export class WallForms {
  constructor(forms) { Object.assign(this, {forms, sketch: forms.sketch}); }

  /** The usual walls, of the house or of a storey that is built in its own way. */
  usual() {
    const {sketch} = this;
    return ['outer', 'inner'].flatMap((which) => makeFields(
        sketch, [`${which}_material`, `${which}_thickness`], [say(`walls_${which}`), say('thickness')],
        {said: usualPlace(sketch, which).said === undefined ? null : usual(sketch, which), follows: built(sketch, which),
         set: (one) => setUsual(sketch, which, one || null)}));
  }

  /** How the walls of the storey are built, in words. */
  usualText() {
    const [outer, inner] = ['outer', 'inner'].map((which) => usual(this.sketch, which));
    return say('walls_are', {outer: outer ? makeText(outer) : say('usual_unknown'), inner: inner ? makeText(inner) : say('usual_unknown')});
  }

  /** The sides of a room that are to the outside. */
  outerSides(room) {
    const sides = this.sketch.pieces.filter(({a, b}) => a === room && b === 'outside').map((piece) => sideOf(piece, this.sketch.here.rooms));
    return [...new Set(sides)].map((side) => say(`side_${side}`)).join(', ');
  }

  otherText(room, other) { return other === 'outside' ? say('outside_at', {sides: this.outerSides(room)}) : other; }

  /** What the wall between two rooms is made of. */
  between(a, b) {
    const {sketch} = this;
    const fields = makeFields(sketch, ['material', 'thickness'], [say('made_of'), say('thickness')], {
      said: wallBetween(sketch, a, b), follows: usualBetween(sketch, a, b), canBeNone: true, set: (one) => setWall(sketch, a, b, one || null)});
    return b === 'outside' && this.outerSides(a).includes(',') ? [...fields, note(say('outer_together'))] : fields;
  }

  /** What the walls of a room to other rooms are made of. */
  allInner(room) {
    const {sketch} = this;
    return [...makeFields(sketch, ['material', 'thickness'], [say('made_of'), say('thickness')], {
      said: innerWallOf(sketch, room), follows: usual(sketch, 'inner'), set: (one) => setInnerWall(sketch, room, one || null)}), note(say('all_inner_but'))];
  }

  /** A wall that was clicked. */
  change({between: [a, b]}) {
    if (!this.sketch.pieces.some((piece) => piece.a === a && piece.b === b)) return [];
    this.forms.mark([a, b]);
    return [make('h3', {textContent: say('wall_title', {a, b: this.otherText(a, b)})}), ...this.between(a, b)];
  }

  /** Which wall of a room, and what it is made of. */
  ofRoom(name) {
    const walls = this.sketch.pieces.filter(({a, b}) => a === name || b === name);
    const others = [...new Set(walls.map(({a, b}) => (a === name ? b : a)))];
    const hasAll = others.filter((other) => other !== 'outside').length > 1 && hasKeys(this.sketch, name);
    const wall = choice('other', [...others.map((value) => ({value, text: this.otherText(name, value)})),
                                  ...(hasAll ? [{value: ALL, text: say('all_inner')}] : [])], this.lastOther);
    const place = make('div', {className: 'fields'});
    const show = () => {
      this.lastOther = wall.value;
      this.forms.mark(wall.value === ALL ? null : [name, wall.value]);
      place.replaceChildren(...(wall.value === ALL ? this.allInner(name) : this.between(name, wall.value)));
    };
    wall.addEventListener('change', show);
    show();
    return [field(say('wall_to'), wall), place];
  }

  /** A wall that bounds no room. */
  single() {
    const {forms, sketch} = this;
    const material = choice('material', materialChoices(sketch, MATERIALS.wall), this.lastMaterial);
    forms.submits((values) => {
      const [from, to] = forms.begun ? [forms.begun.from, forms.begun.to] : [];
      const length = values.length.trim() === '' ? null : forms.numbers(values, 'length')?.[0];
      if (length === undefined) return;
      if (from) return this.add(values, [from, length === null ? to : towards(from, to, length)]);
      const ends = forms.numbers(values, 'x', 'y', 'to_x', 'to_y');
      if (ends) this.add(values, [ends.slice(0, 2), ends.slice(2)]);
    });
    return [
      field(say('name_if'), text('name', '', {maxLength: 60})),
      field(say('made_of'), material), field(say('thickness_if'), size('thickness')), field(say('wall_height'), size('height')),
      field(say('edge_length'), size('length')),
      field(say('x'), size('x', '0')), field(say('y'), size('y', '0')),
      field(say('to_x'), size('to_x', '1')), field(say('to_y'), size('to_y', '0')),
      button(say('add_wall')),
    ];
  }

  async add(values, ends) {
    const {forms, sketch} = this;
    const [thickness, height] = ['thickness', 'height'].map((key) => (values[key].trim() === '' ? null : forms.numbers(values, key)?.[0]));
    if (thickness === undefined || height === undefined) return;
    if (ends[0][0] === ends[1][0] && ends[0][1] === ends[1][1]) return sketch.tell(say('draw_line'));
    forms.begun = null;
    this.lastMaterial = values.material;
    const thick = thickness ?? (MATERIALS.thick.includes(values.material) ? 0.1 : null);
    const name = drawing.freeName(values.name.trim() || say('single_wall'), drawing.wallNames(sketch));
    await drawing.addWall(sketch, name, ends, {
      material: values.material, ...(thick === null ? {} : {thickness_m: thick}), ...(height === null ? {} : {height_m: height})});
    sketch.select({kind: 'wall', name});
    forms.show();
  }
}
