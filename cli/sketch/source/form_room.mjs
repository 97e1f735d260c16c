// Rooms: put in as rectangles or corner by corner, and changed.
import {byId, field, make} from './dom.mjs';
import * as drawing from './drawing.mjs';
import {applied, button, choice, note, size, text} from './fields.mjs';
import {boxOf, cornersText, rectangle, rectOf, towards, typedCorners} from './geometry.mjs';
import {addInside, insideSize, measuresInside, withWalls} from './inside.mjs';
import {say} from './words.mjs';

export class RoomForm {
  shape = 'rectangle';  // of rooms that are drawn

  constructor(forms) { Object.assign(this, {forms, sketch: forms.sketch}); }

  fields() {
    const {forms, sketch} = this;
    const rooms = drawing.roomNames(sketch);
    const shape = applied(choice('shape', ['rectangle', 'corners'].map((value) => ({value, text: say(`shape_${value}`)})), this.shape), (value) => {
      forms.giveUp();
      this.shape = value;
      forms.show(true);
    });
    const name = field(say('name_if'), text('name', '', {maxLength: 60, placeholder: say('room_example')}));
    const isInside = measuresInside(sketch) && this.shape !== 'corners';
    const sizes = note(isInside ? say('sizes_inside') : say('sizes_middle', {task: say('task_storey')}));
    if (this.shape === 'corners') {
      forms.submits((values) => this.#byCorners(values));
      const length = size('length');
      length.addEventListener('keydown', (event) => {
        if (event.key !== 'Enter' || length.value.trim() === '') return;
        event.preventDefault();
        this.#typedEdge();
      });
      return [sizes, field(say('shape'), shape), name, field(say('edge_length'), length),
              field(say('corners'), text('corners', '', {size: 30, placeholder: '0 0; 4 0; 4 3; 2 5; 0 5'})), button(say('add_room'))];
    }
    forms.submits((values) => this.add(values));
    const of = choice('of', [{value: '', text: say('at_corner')}, ...rooms], rooms.at(-1));
    const side = choice('side', ['right', 'left', 'top', 'bottom'].map((value) => ({value, text: say(`side_${value}`)})));
    const at = [size('x', '0'), size('y', '0')];
    // Where a room stands is said by its neighbour or by coordinates.
    forms.shows(() => {
      side.disabled = of.value === '';
      for (const one of at) one.disabled = of.value !== '';
    });
    return [
      sizes, field(say('shape'), shape), name,
      field(say('width'), size('width')), field(say('depth'), size('depth')),
      field(say('beside'), of), field(say('side'), side), field(say('x'), at[0]), field(say('y'), at[1]),
      button(say('add_room')),
    ];
  }

  /** The corners that were clicked or typed so far. */
  corners() { return typedCorners(this.forms.input('corners')?.value ?? '') ?? []; }

  addCorner(at) { this.forms.input('corners').value = cornersText([...this.corners(), at]); }
  dropCorner() { this.forms.input('corners').value = cornersText(this.corners().slice(0, -1)); }

  /** The next corner, so far from the last as typed, in the direction of the pointer. */
  #typedEdge() {
    const {forms} = this;
    const length = forms.numbers(forms.values(), 'length'), last = this.corners().at(-1);
    if (!length) return;
    if (!last) return this.sketch.tell(say('draw_corners'));
    this.addCorner(towards(last, forms.pointed ?? [last[0] + 1, last[1]], length[0]));
    forms.input('length').value = '';
    byId('plan').focus({preventScroll: true});
  }

  async #byCorners(values) {
    const corners = typedCorners(values.corners);
    if (!corners || corners.length < 3) return this.sketch.tell(say('draw_corners'));
    await this.put(values, corners);
  }

  async add(values) {
    const {forms, sketch} = this;
    const sizes = forms.numbers(values, 'width', 'depth');
    if (!sizes) return;
    const [width, depth] = sizes, {begun} = forms;
    if (!(width > 0 && depth > 0)) return sketch.tell(say('no_size'));
    if (measuresInside(sketch) && (begun || values.of || sketch.here.rooms.length === 0)) {
      const name = this.#name(values);
      if (await addInside(sketch, name, sizes, begun ?? {of: values.of, side: values.side})) return this.#added(name);
    }
    const [wide, deep] = measuresInside(sketch) ? withWalls(sketch, sizes) : sizes;
    let rect;
    if (begun) {
      const {from: [x, y], to} = begun;
      rect = [to[0] < x ? x - wide : x, to[1] < y ? y - deep : y, wide, deep];
    } else if (values.of) {
      rect = drawing.rectBeside(sketch, values.of, values.side, wide, deep);
    } else {
      const at = forms.numbers(values, 'x', 'y');
      if (!at) return;
      rect = [...at, wide, deep];
    }
    await this.put(values, rectangle(rect));
  }

  #name(values) { return drawing.freeName(values.name.trim() || say('room'), drawing.roomNames(this.sketch)); }

  async put(values, corners) {
    const name = this.#name(values);
    this.forms.begun = this.forms.pointed = null;
    await drawing.addRoom(this.sketch, name, corners);
    this.#added(name);
  }

  #added(name) {
    const {forms, sketch} = this;
    forms.begun = forms.pointed = null;
    forms.reveal(drawing.cornersOf(sketch, {kind: 'room', name}) ?? []);
    sketch.select({kind: 'room', name});
    forms.show();
    forms.input('name').focus();
  }

  async #changed(name, before, values) {
    const {forms, sketch} = this;
    const after = forms.typedPlace(values);
    if (!after) return;
    const thing = {kind: 'room', name}, [left, bottom] = boxOf(before), [x, y] = boxOf(after);
    const rect = rectOf(before), made = rectOf(after);
    if (cornersText(before) !== cornersText(after)) {
      const resized = rect && made && x === left && y === bottom && await drawing.resize(sketch, name, made.slice(2), before);
      const isMoved = rect && made && made[2] === rect[2] && made[3] === rect[3];
      if (!resized) await drawing.reshape(sketch, thing, after, isMoved ? [x - left, y - bottom] : null);
    }
    const newName = values.name.trim();
    if (newName && newName !== name) await drawing.renameRoom(sketch, name, newName);
    sketch.select({kind: 'room', name: newName || name});
  }

  change(name) {
    const {forms, sketch} = this;
    const corners = drawing.cornersOf(sketch, {kind: 'room', name});
    if (!corners) return [];
    // Inside sizes are shown and typed where the file has them; the plan has those to the middle of the walls.
    const inside = insideSize(sketch, name), rect = rectOf(corners);
    const more = inside && rect ? [rect[2] - inside[0], rect[3] - inside[1]] : [0, 0];
    forms.submits((values) => this.#changed(name, corners, values));
    return [
      make('h3', {textContent: name}),
      field(say('name'), text('name', name, {required: true, maxLength: 60})),
      ...forms.placeFields(corners, more), button(say('change')), ...forms.walls.ofRoom(name),
    ];
  }
}
