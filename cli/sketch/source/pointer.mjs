// The pointer and the keys on the plan.
import * as drawing from './drawing.mjs';
import {boxOf, edgesOf, moved, nearestPiece, openingAt, rectangle, rectOf, round, snapped, squared, withCorner} from './geometry.mjs';
import {between, measuresInside} from './inside.mjs';
import {radioPath, sectionOf, token} from './sketch.mjs';
import {figure, say} from './words.mjs';

const SNAP_PIXELS = 12;
const SHAPES = ['room', 'obstacle', 'wall', 'area'];
const DRAWN_AS_RECTANGLES = ['room', 'obstacle', 'area'];
const ARROWS = {ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1]};

export class Pointer {
  #held = null;  // what the pointer holds: {what, ...}
  #fingers = new Map();  // pointers that are down, by their numbers: [x, y]

  constructor(sketch, view, forms) {
    Object.assign(this, {sketch, view, forms});
    const {svg} = view;
    svg.addEventListener('pointerdown', (event) => this.#down(event));
    svg.addEventListener('mousedown', (event) => event.preventDefault());  // else the keys leave the plan, whose parts are drawn anew
    svg.addEventListener('pointermove', (event) => this.#move(event));
    svg.addEventListener('pointerup', (event) => this.#up(event));
    svg.addEventListener('pointercancel', ({pointerId}) => {
      this.#fingers.delete(pointerId);
      this.#end();
    });
    svg.addEventListener('wheel', (event) => {
      event.preventDefault();
      view.zoom(event.deltaY > 0 ? 1.15 : 1 / 1.15, view.place(event));
    }, {passive: false});
    svg.addEventListener('keydown', (event) => this.#key(event));
    document.addEventListener('keydown', (event) => this.#typed(event));
  }

  /** A place at the edges of rooms of this storey and the one below, else on the grid. */
  snap(at) {
    const rooms = [...this.sketch.here.rooms, ...(this.sketch.below?.rooms ?? [])];
    const reach = SNAP_PIXELS * this.view.pixel;
    return [0, 1].map((axis) => round(snapped(at[axis], edgesOf(rooms, axis), reach), 0.001));
  }

  #down(event) {
    if (event.button !== 0) return;
    this.#fingers.set(event.pointerId, [event.clientX, event.clientY]);
    if (this.#fingers.size === 2 && ['plan', 'rectangle', 'line', 'point'].includes(this.#held?.what)) {
      this.#end();
      this.#held = {what: 'pinch'};
    }
    if (this.#held) return;
    const {sketch, view, forms} = this;
    view.svg.focus({preventScroll: true});
    view.svg.setPointerCapture(event.pointerId);
    const at = view.place(event);
    const thing = event.target.closest('[data-kind]');
    if (forms.photo.takes(at)) return;
    const handle = event.target.closest('[data-handle]');
    if (forms.task === 'room' && forms.byCorners && !forms.reachOf) {
      this.#held = {what: 'point', at};
    } else if (forms.reachOf || DRAWN_AS_RECTANGLES.includes(forms.task)) {
      this.#held = {what: 'rectangle', from: this.snap(at), to: this.snap(at)};
    } else if (forms.task === 'wall') {
      this.#held = {what: 'line', from: this.snap(at), to: this.snap(at)};
    } else if (forms.task === 'opening') {
      forms.openings.put(at, 3 * SNAP_PIXELS * view.pixel);
    } else if (forms.task === 'radio' && thing?.dataset.kind === 'opening') {
      forms.radios.addOn(thing.dataset.name);
    } else if (forms.task === 'radio' && !(thing && sectionOf(thing.dataset.kind))) {
      const snapped = at.map((value) => round(value, 0.05));
      forms.radios.add(forms.values(), snapped);
    } else if (handle) {
      this.#held = {what: 'corner', thing: sketch.selected, corners: drawing.cornersOf(sketch, sketch.selected), i: Number(handle.dataset.handle), begun: at};
    } else if (thing) {
      const {kind, name} = thing.dataset;
      const selected = kind === 'boundary' ? {kind, name, between: JSON.parse(name)} : {kind, name};
      sketch.select(selected);
      if (forms.task !== 'change') forms.choose('change');
      else forms.show();
      if (sectionOf(kind)) {
        const radio = sketch.radio(kind, name);
        this.#held = {what: 'radio', ...selected, shift: [at[0] - radio.at[0], at[1] - radio.at[1]], begun: at};
      } else if (kind === 'opening') {
        this.#held = {what: 'opening', ...selected, begun: at};
      } else if (SHAPES.includes(kind)) {
        this.#held = {what: 'shape', thing: selected, begun: at, corners: drawing.cornersOf(sketch, selected)};
      }
    } else {
      sketch.select(null);
      this.#held = {what: 'plan', x: event.clientX, y: event.clientY};
    }
  }

  #move(event) {
    const held = this.#held;
    const {view, sketch, forms} = this;
    if (!held) {
      if (forms.byCorners && forms.rooms.corners().length > 0) this.#draftCorners(this.#next(view.place(event)));
      return;
    }
    if (held.what === 'pinch') return this.#pinch(event);
    const at = view.place(event);
    const far = held.begun && Math.hypot(at[0] - held.begun[0], at[1] - held.begun[1]) > 4 * view.pixel;
    held.moved ||= far;
    switch (held.what) {
      case 'plan':
        view.pan((event.clientX - held.x) * view.pixel, -(event.clientY - held.y) * view.pixel);
        [held.x, held.y] = [event.clientX, event.clientY];
        break;
      case 'point':
        held.at = at;
        this.#draftCorners(this.#next(at));
        break;
      case 'rectangle':
        held.to = this.snap(at);
        this.#draft(held);
        break;
      case 'line':
        held.to = squared(held.from, this.snap(at), SNAP_PIXELS * view.pixel);
        view.draft([held.from, held.to], this.#length(held.from, held.to), true);
        break;
      case 'radio':
        if (!held.moved) return;
        view.symbols.isBusy = true;
        held.at = [round(at[0] - held.shift[0], 0.01), round(at[1] - held.shift[1], 0.01)];
        view.symbols.move(held.kind, held.name, held.at);
        sketch.drag(held.kind, held.name, held.at);
        break;
      case 'opening':
        if (held.moved) this.#draftOpening(held, at);
        break;
      case 'corner':
        if (!held.moved) return;
        held.made = withCorner(held.corners, held.i, this.snap(at));
        view.draft(held.made, this.#sizes(held.made), held.thing.kind === 'wall');
        break;
      case 'shape':
        if (!held.moved || !held.corners) return;
        held.shift = this.#shift(held, at);
        held.made = moved(held.corners, ...held.shift);
        view.draft(held.made, '', held.thing.kind === 'wall');
        break;
    }
  }

  /** How far a shape is moved; its edges snap to those of rooms. */
  #shift({thing, corners, begun}, at) {
    const rooms = [...this.sketch.here.rooms.filter(({name}) => thing.kind !== 'room' || name !== thing.name), ...(this.sketch.below?.rooms ?? [])];
    const box = boxOf(corners);
    return [0, 1].map((axis) => {
      const low = box[axis], size = box[2 + axis] - low;
      const edges = edgesOf(rooms, axis).flatMap((edge) => [edge, edge - size]);
      return round(snapped(low + at[axis] - begun[axis], edges, SNAP_PIXELS * this.view.pixel) - low, 0.001);
    });
  }

  /** The next corner of a room that is clicked corner by corner: straight from the last where it nearly is. */
  #next(at) {
    const snapped = this.snap(at), last = this.forms.rooms.corners().at(-1);
    return last ? squared(last, snapped, SNAP_PIXELS * this.view.pixel) : snapped;
  }

  #corner(at) {
    const {forms} = this;
    const corners = forms.rooms.corners(), [first] = corners;
    const closes = corners.length > 2 && Math.hypot(at[0] - first[0], at[1] - first[1]) < SNAP_PIXELS * this.view.pixel;
    if (closes) {
      this.view.draft(null);
      forms.submit();
    } else {
      forms.rooms.addCorner(this.#next(at));
      this.#draftCorners(this.#next(at));
    }
  }

  #draftCorners(at) {
    const corners = this.forms.rooms.corners();
    this.forms.pointed = at;
    this.view.draft([...corners, at], corners.length > 0 ? this.#length(corners.at(-1), at) : '', true);
  }

  #length(from, to) { return `${figure(Math.hypot(to[0] - from[0], to[1] - from[1]), 2)} m`; }

  #sizes(corners) {
    const rect = rectOf(corners);
    if (corners.length === 2) return this.#length(...corners);
    return rect ? `${figure(rect[2], 2)} × ${figure(rect[3], 2)} m` : '';
  }

  /** Two fingers: what lies between them stays there. */
  #pinch(event) {
    const before = [...this.#fingers.values()];
    if (!this.#fingers.has(event.pointerId) || before.length !== 2) return;
    this.#fingers.set(event.pointerId, [event.clientX, event.clientY]);
    const after = [...this.#fingers.values()];
    const apart = ([[x1, y1], [x2, y2]]) => Math.max(1, Math.hypot(x1 - x2, y1 - y2));
    const middle = ([[x1, y1], [x2, y2]]) => [(x1 + x2) / 2, (y1 + y2) / 2];
    const [x, y] = middle(after), [x0, y0] = middle(before);
    this.view.pan((x - x0) * this.view.pixel, -(y - y0) * this.view.pixel);
    this.view.zoom(apart(before) / apart(after), this.view.place({clientX: x, clientY: y}));
  }

  async #up(event) {
    this.#fingers.delete(event.pointerId);
    if (this.#held?.what === 'pinch' && this.#fingers.size > 0) return;
    const held = this.#held;
    this.#end(true);
    if (!held) return;
    if (held.what === 'point') {
      this.#corner(held.at);
    } else if (held.what === 'rectangle') {
      const size = [0, 1].map((i) => round(Math.abs(held.to[i] - held.from[i]), 0.001));
      if (size[0] < 0.1 || size[1] < 0.1) {
        this.view.draft(null);
        return this.sketch.tell(say('draw_rectangle'));
      }
      await this.forms.drawn([Math.min(held.from[0], held.to[0]), Math.min(held.from[1], held.to[1]), ...size]);
      this.view.draft(null);
    } else if (held.what === 'line') {
      if (Math.hypot(held.to[0] - held.from[0], held.to[1] - held.from[1]) < 0.1) {
        this.view.draft(null);
        return this.sketch.tell(say('draw_line'));
      }
      await this.forms.walls.add(this.forms.values(), [held.from, held.to]);
      this.view.draft(null);
    } else if (held.made) {
      await drawing.reshape(this.sketch, held.thing, held.made, held.thing.kind === 'room' ? held.shift : null);
      this.view.draft(null);
    } else if (held.what === 'radio' && held.at) {
      await this.sketch.drop();
    } else if (held.what === 'opening' && held.at) {
      await this.sketch.edit({set: {[`/storeys/${token(this.sketch.storey)}/openings/${token(held.name)}/at_m`]: held.at}});
    }
  }

  #end(kept = false) {
    this.#held = null;
    this.view.symbols.isBusy = false;
    if (!kept) this.forms.begun = null;
    if (!kept || !this.forms.begun) this.view.draft(null);
  }

  #draft({from, to}) {
    const [x1, y1] = from, [x2, y2] = to;
    const corners = rectangle([x1, y1, x2 - x1, y2 - y1]);
    const isRoom = this.forms.task === 'room' && !this.forms.reachOf && measuresInside(this.sketch);
    const sizes = isRoom ? between(this.sketch, boxOf(corners)) : [Math.abs(x2 - x1), Math.abs(y2 - y1)];
    this.view.draft(corners, `${figure(sizes[0], 2)} × ${figure(sizes[1], 2)} m`);
  }

  #draftOpening(held, at) {
    const {sketch, view} = this;
    const opening = sketch.here.openings.find(({name}) => name === held.name);
    const middle = [(opening.from[0] + opening.to[0]) / 2, (opening.from[1] + opening.to[1]) / 2];
    const width = Math.hypot(opening.to[0] - opening.from[0], opening.to[1] - opening.from[1]);
    const own = nearestPiece(sketch.pieces, middle)?.piece;
    if (!own) return;
    const near = nearestPiece([own], at);
    held.at = openingAt(own, near.share, width, 0.05);
    const half = [(opening.to[0] - opening.from[0]) / 2, (opening.to[1] - opening.from[1]) / 2];
    const begin = [held.at[0] - half[0], held.at[1] - half[1]], end = [held.at[0] + half[0], held.at[1] + half[1]];
    view.draft([begin, end, end, begin]);
  }

  /** Sizes typed while a room or a wall is drawn: digits go into the form, where Tab and Enter do what they do there. */
  #typed(event) {
    const {forms} = this;
    if (!/^[0-9]$/.test(event.key)) return;
    const held = this.#held;
    if (forms.byCorners && document.activeElement === this.view.svg && forms.rooms.corners().length > 0) {
      forms.type('length', event.key);
    } else if (held?.what === 'rectangle' && forms.task === 'room') {
      forms.begun = held;
      forms.input('depth').value = '';
      forms.type('width', event.key);
    } else if (held?.what === 'line') {
      forms.begun = held;
      forms.type('length', event.key);
    } else {
      return;
    }
    event.preventDefault();
    this.#held = null;
  }

  async #key(event) {
    const {sketch, view} = this;
    const arrow = ARROWS[event.key];
    if (event.key === '+' || event.key === '-') return view.zoom(event.key === '+' ? 1 / 1.25 : 1.25);
    if (event.key === 'Escape') {
      this.#end();
      this.forms.giveUp();
      return sketch.select(null);
    }
    if (event.key === 'Backspace' && this.forms.byCorners && this.forms.rooms.corners().length > 0) {
      this.forms.rooms.dropCorner();
      return view.draft(null);
    }
    const {selected} = sketch;
    if ((event.key === 'Delete' || event.key === 'Backspace') && selected) return drawing.remove(sketch, selected);
    if (!arrow) return;
    event.preventDefault();
    const step = event.shiftKey ? 1 : 0.1;
    const by = arrow.map((one) => one * step);
    if (!selected) return view.pan(-by[0] * 10 * step, -by[1] * 10 * step);
    if (sectionOf(selected.kind)) {
      const radio = sketch.radio(selected.kind, selected.name);
      const at = radio.at.map((value, i) => round(value + by[i], 0.001));
      await sketch.edit({set: {[`${radioPath(selected.kind, selected.name)}/at_m`]: at}});
    } else if (SHAPES.includes(selected.kind)) {
      const corners = drawing.cornersOf(sketch, selected);
      if (corners) await drawing.reshape(sketch, selected, moved(corners, ...by), by);
    } else if (selected.kind === 'opening') {
      const opening = sketch.here.openings.find(({name}) => name === selected.name);
      const along = Math.abs(opening.to[0] - opening.from[0]) > Math.abs(opening.to[1] - opening.from[1]) ? 0 : 1;
      const at = this.forms.openings.slid(opening, by[along]);
      if (at) await sketch.edit({set: {[`/storeys/${token(sketch.storey)}/openings/${token(selected.name)}/at_m`]: at}});
    }
  }
}
