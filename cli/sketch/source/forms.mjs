// What can be done, each with a form that does by keys what the pointer does on the plan.
import {byId, field, make} from './dom.mjs';
import * as drawing from './drawing.mjs';
import {button, isPending, note, redraw, size, text} from './fields.mjs';
import {HouseForm} from './form_house.mjs';
import {OpeningForm} from './form_opening.mjs';
import {RadioForm} from './form_radio.mjs';
import {RoomForm} from './form_room.mjs';
import {ShapeForms} from './form_shape.mjs';
import {WallForms} from './form_wall.mjs';
import {cornersText, rectangle, rectOf, round, typedCorners} from './geometry.mjs';
import {say, typed} from './words.mjs';

const TASKS = ['change', 'room', 'opening', 'wall', 'obstacle', 'radio', 'area', 'storey', 'photo'];

const NAMED_FIRST = ['room', 'storey'];

export class Forms {
  task = 'change';
  begun = null;    // {from, to} of what is being drawn while its sizes are typed
  pointed = null;  // where the pointer is while a room is clicked corner by corner
  reveal = () => {};  // shows the whole storey where corners are out of sight
  mark = () => {};    // shows on the plan which wall a form is about: ([a, b]) or (null, piece)
  reachOf = null;  // the radio whose area to move in is drawn next: {kind, name}
  #submit = null;
  #shows = null;
  #place = [];        // the fields of a rectangle, and what they stand for
  #isStale = false;   // the site changed while a choice was pending
  #submitted = null;  // {name, value} of the field that was typed in when something was added

  constructor(sketch, photo) {
    this.sketch = sketch;
    this.photo = photo;
    this.form = byId('form');
    this.rooms = new RoomForm(this);
    this.walls = new WallForms(this);
    this.openings = new OpeningForm(this);
    this.radios = new RadioForm(this);
    this.shapes = new ShapeForms(this);
    this.house = new HouseForm(this);
    this.form.addEventListener('submit', (event) => {
      event.preventDefault();
      const {name, value} = document.activeElement ?? {};
      this.#submitted = name ? {name, value} : null;
      this.#submit?.(this.values());
    });
    this.form.addEventListener('change', () => this.#shows?.());
    this.form.addEventListener('settled', () => this.#isStale && this.show(true));
    // Enter adds from any field; a list opens by Space and the arrow keys.
    this.form.addEventListener('keydown', (event) => {
      if (event.key !== 'Enter' || event.target.tagName !== 'SELECT') return;
      event.preventDefault();
      this.submit();
    });
  }

  /** What Enter and the button do. */
  submits(act) { this.#submit = act; }

  /** What follows from what is chosen in the form, done now and after each choice. */
  shows(act) { this.#shows = act; }

  values() { return Object.fromEntries(new FormData(this.form)); }
  input(name) { return this.form.elements.namedItem(name); }

  choose(task) {
    this.task = task;
    this.giveUp();
    this.show();
  }

  submit() { this.form.requestSubmit(); }

  /** Where typing goes on. */
  focusName() { this.input('name')?.focus(); }

  /** What is being drawn is not drawn on. */
  giveUp() {
    this.begun = this.pointed = this.reachOf = null;
    if (this.byCorners && this.rooms.corners().length > 0) this.input('corners').value = '';
  }

  /** A sign typed on the plan begins the text of a field. */
  type(name, sign) {
    const input = this.input(name);
    input.value = sign;
    input.focus();
    input.setSelectionRange(sign.length, sign.length);
  }

  /** A rectangle was drawn for the task. */
  drawn(rect) {
    if (this.reachOf) {
      const {kind, name} = this.reachOf;
      this.reachOf = null;
      return drawing.setMobility(this.sketch, kind, name, {within_m: rectangle(rect)});
    }
    switch (this.task) {
      case 'room': return this.rooms.put(this.values(), rectangle(rect));
      case 'area': return this.shapes.addArea(this.values(), rect);
      default: return this.shapes.addObstacle(this.values(), rect);
    }
  }

  showTasks() {
    byId('tasks').replaceChildren(...TASKS.map((task) => make(
        'label', {className: 'task', onclick: ({detail}) => {
          // By pointer only: keys go through the tasks one by one.
          if (detail > 0 && NAMED_FIRST.includes(task)) setTimeout(() => this.focusName());
        }},
        make('input', {type: 'radio', name: 'task', value: task, checked: task === this.task, onchange: () => this.choose(task)}),
        make('span', {textContent: say(`task_${task}`)}))));
  }

  #fields() {
    switch (this.task) {
      case 'room': return this.rooms.fields();
      case 'opening': return this.openings.fields();
      case 'wall': return this.walls.single();
      case 'obstacle': return this.shapes.obstacle();
      case 'radio': return this.radios.fields();
      case 'area': return this.shapes.area();
      case 'storey': return this.house.fields();
      case 'photo': return this.photo.fields(() => this.show());
      default: return this.#change();
    }
  }

  /** The form of the task. @param keep  what was typed stays, but for what is selected; a list that waits for its choice is left alone */
  show(keep = false) {
    if (keep && this.task === this.shownTask && isPending(document.activeElement)) return (this.#isStale = true);
    this.#isStale = false;
    const before = keep && this.task === this.shownTask && this.task !== 'change'
      ? Object.entries(this.values()).filter(([, value]) => typeof value === 'string') : [];
    const typedAhead = keep ? '' : this.#typedAhead();
    this.shownTask = this.task;
    this.#submit = this.#shows = null;
    this.mark(null);
    redraw(this.form, [note(say(`how_${this.task}`)), ...this.#fields()], before);
    if (typedAhead && this.input('name')) this.type('name', typedAhead);
    this.#shows?.();
    this.radios.heights(this.task === 'radio');
    for (const one of document.querySelectorAll('input[name=task]')) one.checked = one.value === this.task;
  }

  /** What was typed since something was added, before its form was there for the next one: of the next one's name. */
  #typedAhead() {
    const {name, value} = this.#submitted ?? {};
    this.#submitted = null;
    const now = name && this.task === this.shownTask ? this.input(name)?.value : undefined;
    return typeof now === 'string' && now.startsWith(value) ? now.slice(value.length) : '';
  }

  /** Numbers of fields; null and a word about it where one is none. */
  numbers(values, ...names) {
    const found = names.map((name) => typed(values[name]));
    const wrong = found.findIndex(Number.isNaN);
    if (wrong < 0) return found;
    this.sketch.tell(say('no_number', {text: values[names[wrong]]}));
    this.input(names[wrong]).focus();
    return null;
  }

  /** Whether a room is drawn corner by corner. */
  get byCorners() { return this.task === 'room' && this.rooms.shape === 'corners'; }

  #change() {
    const {selected} = this.sketch;
    if (!selected) return [];
    if (selected.kind === 'boundary') return this.walls.change(selected);
    const fields = this.#changeFields(selected);
    return fields.length === 0 ? [] : [
      ...fields, button(say('remove'), {type: 'button', onclick: () => drawing.remove(this.sketch, selected)})];
  }

  #changeFields(selected) {
    switch (selected.kind) {
      case 'room': return this.rooms.change(selected.name);
      case 'opening': return this.openings.change(selected.name);
      case 'obstacle':
      case 'wall':
      case 'area': return this.shapes.change(selected);
      default: return this.radios.change(selected);
    }
  }

  /** Fields of a shape by coordinates. @param more  what its sizes have more than those that are shown */
  placeFields(corners, more = [0, 0]) {
    const rect = rectOf(corners);
    if (!rect) return [field(corners.length === 2 ? say('ends') : say('corners'), text('corners', cornersText(corners), {size: 30}))];
    this.#place = ['x', 'y', 'width', 'depth'].map((key, i) => {
      const extra = more[i - 2] ?? 0;
      return {key, now: rect[i], shown: round(rect[i] - extra, 0.001), extra};
    });
    return this.#place.map((one) => field(say(one.key), size(one.key, String(one.shown))));
  }

  /** The corners that those fields say; null and a word about it where they say none. What was not touched stays as exact as it is. */
  typedPlace(values) {
    if (values.corners === undefined) {
      const typed = this.numbers(values, ...this.#place.map(({key}) => key));
      return typed && rectangle(this.#place.map(({now, shown, extra}, i) => (typed[i] === shown ? now : round(typed[i] + extra, 0.0001))));
    }
    const corners = typedCorners(values.corners);
    const least = this.sketch.selected.kind === 'wall' ? 2 : 3;
    if (corners && (least === 2 ? corners.length === 2 : corners.length >= 3)) return corners;
    this.sketch.tell(say('no_corners', {text: values.corners}));
    return null;
  }
}
