// What can be done, each with a form that does by keys what the pointer does on the plan.
import {byId, field, make, options} from './dom.mjs';
import * as drawing from './drawing.mjs';
import {boxOf, cornersText, nearestOn, openingAt, rectangle, rectOf, round, towards, typedCorners} from './geometry.mjs';
import {radioPath, token} from './sketch.mjs';
import {choices, figure, nameOf, say, shown, typed} from './words.mjs';
/* global KINDS, CONSTRUCTIONS, MATERIALS */

/** Places in a room, as site files say them. */
const SPOTS = ['corner top left', 'corner top right', 'corner bottom left', 'corner bottom right', 'left wall', 'right wall', 'top wall', 'bottom wall'];

export const TASKS = ['change', 'room', 'opening', 'wall', 'obstacle', 'radio', 'area', 'storey', 'photo'];

const NAMED_FIRST = ['room', 'storey'];

const text = (name, value = '', more = {}) => make('input', {name, value, ...more});
const size = (name, value = '') => text(name, shown(value), {inputMode: 'decimal', size: 6});
const choice = (name, items, chosen) => make('select', {name}, ...options(items, chosen));
const button = (label, more = {}) => make('button', {textContent: label, ...more});

export class Forms {
  task = 'change';
  shape = 'rectangle';  // of rooms that are drawn
  begun = null;    // {from, to} of what is being drawn while its sizes are typed
  pointed = null;  // where the pointer is while a room is clicked corner by corner
  reveal = () => {};  // shows the whole storey where corners are out of sight
  reachOf = null;  // the radio whose area to move in is drawn next: {kind, name}

  constructor(sketch, photo) {
    this.sketch = sketch;
    this.photo = photo;
    this.form = byId('form');
    this.form.addEventListener('submit', (event) => {
      event.preventDefault();
      this.#submit?.(this.values());
    });
    // Enter adds from any field; a list opens by Space and the arrow keys.
    this.form.addEventListener('keydown', (event) => {
      if (event.key !== 'Enter' || event.target.tagName !== 'SELECT') return;
      event.preventDefault();
      this.submit();
    });
  }

  #submit = null;

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
    if (this.byCorners && this.corners().length > 0) this.input('corners').value = '';
  }

  /** A sign typed on the plan begins the text of a field. */
  type(name, sign) {
    const input = this.input(name);
    input.value = sign;
    input.focus();
    input.setSelectionRange(1, 1);
  }

  /** A rectangle was drawn for the task. */
  drawn(rect) {
    if (this.reachOf) {
      const {kind, name} = this.reachOf;
      this.reachOf = null;
      return drawing.setMobility(this.sketch, kind, name, {within_m: rectangle(rect)});
    }
    switch (this.task) {
      case 'room': return this.#newRoom(this.values(), rectangle(rect));
      case 'area': return this.addArea(this.values(), rect);
      default: return this.addObstacle(this.values(), rect);
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

  /** The form of the task. @param keep  what was typed stays, but for what is selected */
  show(keep = false) {
    const before = keep && this.task === this.shownTask && this.task !== 'change' ? Object.entries(this.values()) : [];
    this.shownTask = this.task;
    this.#submit = null;
    const active = document.activeElement?.form === this.form ? document.activeElement.name : null;
    this.form.replaceChildren(make('p', {className: 'soft', textContent: say(`how_${this.task}`)}), ...this[`_${this.task}`]());
    for (const [name, value] of before) {
      const input = this.input(name);
      if (!input || value instanceof File || (input.tagName === 'SELECT' && ![...input.options].some((one) => one.value === value))) continue;
      input.value = value;
    }
    if (active) this.input(active)?.focus?.();
    this.#heights();
    for (const one of document.querySelectorAll('input[name=task]')) one.checked = one.value === this.task;
  }

  /** While devices are put in: the heights of all on the storey, each in a field of its own. */
  #heights() {
    const place = byId('heights'), {radios} = this.sketch.here;
    const focused = place.contains(document.activeElement) ? document.activeElement.dataset.radio : null;
    if (this.task !== 'radio' || radios.length === 0) return place.replaceChildren();
    place.replaceChildren(make('h3', {textContent: say('heights')}), ...radios.map(({kind, name, height}) => field(name, make('input', {
      inputMode: 'decimal', size: 6, value: shown(height), 'data-radio': `${kind}/${name}`,
      onchange: ({target}) => {
        const value = typed(target.value);
        if (Number.isNaN(value)) this.sketch.tell(say('no_number', {text: target.value}));
        else this.sketch.edit({set: {[`${radioPath(kind, name)}/height_m`]: value}});
      },
    }))));
    if (focused) place.querySelector(`input[data-radio="${CSS.escape(focused)}"]`)?.focus();
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
  get byCorners() { return this.task === 'room' && this.shape === 'corners'; }

  _room() {
    const rooms = drawing.roomNames(this.sketch);
    const shape = choice('shape', ['rectangle', 'corners'].map((value) => ({value, text: say(`shape_${value}`)})), this.shape);
    shape.addEventListener('change', () => {
      this.giveUp();
      this.shape = shape.value;
      this.show(true);
    });
    const name = field(say('name_if'), text('name', '', {maxLength: 60, placeholder: say('room_example')}));
    if (this.shape === 'corners') {
      this.#submit = (values) => this.#cornerRoom(values);
      const length = size('length');
      length.addEventListener('keydown', (event) => {
        if (event.key !== 'Enter' || length.value.trim() === '') return;
        event.preventDefault();
        this.#typedEdge();
      });
      return [field(say('shape'), shape), name, field(say('edge_length'), length),
              field(say('corners'), text('corners', '', {size: 30, placeholder: '0 0; 4 0; 4 3; 2 5; 0 5'})), button(say('add_room'))];
    }
    this.#submit = (values) => this.addRoom(values);
    return [
      field(say('shape'), shape), name,
      field(say('width'), size('width')), field(say('depth'), size('depth')),
      field(say('beside'), choice('of', [{value: '', text: say('at_corner')}, ...rooms], rooms.at(-1))),
      field(say('side'), choice('side', ['right', 'left', 'top', 'bottom'].map((value) => ({value, text: say(`side_${value}`)})))),
      field(say('x'), size('x', '0')), field(say('y'), size('y', '0')),
      button(say('add_room')),
    ];
  }

  /** The corners that were clicked or typed so far. */
  corners() { return typedCorners(this.input('corners')?.value ?? '') ?? []; }

  addCorner(at) {
    this.input('corners').value = cornersText([...this.corners(), at]);
  }

  dropCorner() {
    this.input('corners').value = cornersText(this.corners().slice(0, -1));
  }

  /** The next corner, so far from the last as typed, in the direction of the pointer. */
  #typedEdge() {
    const values = this.values();
    const length = this.numbers(values, 'length'), last = this.corners().at(-1);
    if (!length) return;
    if (!last) return this.sketch.tell(say('draw_corners'));
    this.addCorner(towards(last, this.pointed ?? [last[0] + 1, last[1]], length[0]));
    this.input('length').value = '';
    byId('plan').focus({preventScroll: true});
  }

  async #cornerRoom(values) {
    const corners = typedCorners(values.corners);
    if (!corners || corners.length < 3) return this.sketch.tell(say('draw_corners'));
    await this.#newRoom(values, corners);
  }

  async addRoom(values) {
    const sizes = this.numbers(values, 'width', 'depth');
    if (!sizes) return;
    const [width, depth] = sizes;
    if (!(width > 0 && depth > 0)) return this.sketch.tell(say('no_size'));
    let rect;
    if (this.begun) {
      const {from: [x, y], to} = this.begun;
      rect = [to[0] < x ? x - width : x, to[1] < y ? y - depth : y, width, depth];
    } else if (values.of) {
      rect = drawing.rectBeside(this.sketch, values.of, values.side, width, depth);
    } else {
      const at = this.numbers(values, 'x', 'y');
      if (!at) return;
      rect = [...at, width, depth];
    }
    await this.#newRoom(values, rectangle(rect));
  }

  async #newRoom(values, corners) {
    this.begun = this.pointed = null;
    const name = drawing.freeName(values.name.trim() || say('room'), drawing.roomNames(this.sketch));
    await drawing.addRoom(this.sketch, name, corners);
    this.reveal(corners);
    this.sketch.select({kind: 'room', name});
    this.show();
    this.input('name').focus();
  }

  _wall() {
    const material = choice('material', choices('material', MATERIALS.wall), this.lastMaterial);
    this.#submit = (values) => {
      const [from, to] = this.begun ? [this.begun.from, this.begun.to] : [];
      const length = values.length.trim() === '' ? null : this.numbers(values, 'length')?.[0];
      if (length === undefined) return;
      if (from) return this.addWall(values, [from, length === null ? to : towards(from, to, length)]);
      const ends = this.numbers(values, 'x', 'y', 'to_x', 'to_y');
      if (ends) this.addWall(values, [ends.slice(0, 2), ends.slice(2)]);
    };
    return [
      field(say('name_if'), text('name', '', {maxLength: 60})),
      field(say('made_of'), material), field(say('thickness_if'), size('thickness')), field(say('wall_height'), size('height')),
      field(say('edge_length'), size('length')),
      field(say('x'), size('x', '0')), field(say('y'), size('y', '0')),
      field(say('to_x'), size('to_x', '1')), field(say('to_y'), size('to_y', '0')),
      button(say('add_wall')),
    ];
  }

  async addWall(values, ends) {
    const [thickness, height] = ['thickness', 'height'].map((key) => (values[key].trim() === '' ? null : this.numbers(values, key)?.[0]));
    if (thickness === undefined || height === undefined) return;
    if (ends[0][0] === ends[1][0] && ends[0][1] === ends[1][1]) return this.sketch.tell(say('draw_line'));
    this.begun = null;
    this.lastMaterial = values.material;
    const thick = thickness ?? (MATERIALS.thick.includes(values.material) ? 0.1 : null);
    const name = drawing.freeName(values.name.trim() || say('single_wall'), drawing.wallNames(this.sketch));
    await drawing.addWall(this.sketch, name, ends, {
      material: values.material, ...(thick === null ? {} : {thickness_m: thick}), ...(height === null ? {} : {height_m: height})});
    this.sketch.select({kind: 'wall', name});
    this.show();
  }

  _area() {
    const remotes = (this.sketch.opened?.profiles ?? []).filter((one) => one.transmits && one.class === 'fobs').map(({name}) => name);
    const rooms = drawing.roomNames(this.sketch).map((name) => ({value: name, text: say('in', {room: name})}));
    this.#submit = (values) => {
      if (values.room) return this.addArea(values, null);
      const rect = this.numbers(values, 'x', 'y', 'width', 'depth');
      if (rect) this.addArea(values, rect);
    };
    return [
      field(say('name_if'), text('name', '', {maxLength: 60, placeholder: say('area_example')})),
      field(say('profile'), choice('profile', choices('profile', remotes), 'fob')),
      field(say('share'), size('share', '95')),
      field(say('place'), choice('room', [{value: '', text: say('at_corner')}, ...rooms], '')),
      field(say('x'), size('x', '0')), field(say('y'), size('y', '0')),
      field(say('width'), size('width', '4')), field(say('depth'), size('depth', '3')),
      button(say('add_area')),
    ];
  }

  /** @param rect  that was drawn or typed; null: the room that the form says */
  async addArea(values, rect) {
    const share = this.numbers(values, 'share');
    if (!share) return;
    if (rect && !(rect[2] > 0 && rect[3] > 0)) return this.sketch.tell(say('no_size'));
    const name = drawing.freeName(values.name.trim() || say('area'), drawing.areaNames(this.sketch));
    await drawing.addArea(this.sketch, name, values.profile, {
      ...(rect ? {storey: this.sketch.storey, rect_m: rect} : {in: values.room}), ...(share[0] === 95 ? {} : {share_percent: share[0]})});
    if (rect) this.reveal(rectangle(rect));
    this.sketch.select({kind: 'area', name});
    this.show();
  }

  _obstacle() {
    this.#submit = (values) => this.addObstacle(values);
    return [
      field(say('name_if'), text('name', '', {maxLength: 60, placeholder: say('obstacle_example')})),
      field(say('made_of'), choice('material', choices('material', MATERIALS.obstacle))),
      field(say('obstacle_height'), size('height', '1.8')),
      field(say('x'), size('x', '0')), field(say('y'), size('y', '0')),
      field(say('width'), size('width', '1')), field(say('depth'), size('depth', '0.5')),
      button(say('add_obstacle')),
    ];
  }

  /** @param rect  that was drawn; null: as the form says */
  async addObstacle(values, rect = null) {
    const height = this.numbers(values, 'height');
    rect ??= this.numbers(values, 'x', 'y', 'width', 'depth');
    if (!height || !rect) return;
    if (!(rect[2] > 0 && rect[3] > 0)) return this.sketch.tell(say('no_size'));
    const name = drawing.freeName(values.name.trim() || nameOf('material', values.material), drawing.obstacleNames(this.sketch));
    await drawing.addObstacle(this.sketch, name, rectangle(rect), height[0], values.material);
    this.sketch.select({kind: 'obstacle', name});
    this.show();
  }

  _opening() {
    const pieces = this.sketch.pieces;
    this.#submit = async (values) => {
      const piece = pieces[values.piece];
      if (!piece) return this.sketch.tell(say('no_walls'));
      const length = Math.hypot(piece.to[0] - piece.from[0], piece.to[1] - piece.from[1]);
      const from = values.from.trim() === '' ? length / 2 : this.numbers(values, 'from')?.[0];
      if (from !== undefined) await this.addOpening(values, piece, from / length);
    };
    const named = pieces.map((piece, value) => {
      const length = Math.hypot(piece.to[0] - piece.from[0], piece.to[1] - piece.from[1]);
      const b = piece.b === 'outside' ? say('outside') : piece.b;
      return {value, text: say('wall_of', {a: piece.a, b, length: shown(round(length))}) + (piece.b === 'outside' ? `, ${say(`side_${this.#side(piece)}`)}` : '')};
    });
    return [
      field(say('kind'), choice('kind', choices('kind', Object.keys(KINDS)), this.lastKind ?? 'inner door')),
      field(say('wall'), choice('piece', named)),
      field(say('from_end'), size('from')),
      field(say('opening_width'), size('width')),
      field(say('name_if'), text('name', '', {maxLength: 60})),
      button(say('add_opening')),
    ];
  }

  #side({a, from, to}) {
    const {corners} = this.sketch.here.rooms.find(({name}) => name === a);
    const middle = [0, 1].map((i) => corners.reduce((sum, corner) => sum + corner[i], 0) / corners.length);
    const dx = (from[0] + to[0]) / 2 - middle[0], dy = (from[1] + to[1]) / 2 - middle[1];
    if (Math.abs(from[0] - to[0]) < Math.abs(from[1] - to[1])) return dx < 0 ? 'left' : 'right';
    return dy < 0 ? 'bottom' : 'top';
  }

  async addOpening(values, piece, share) {
    this.lastKind = values.kind;
    const width = values.width.trim() === '' ? null : this.numbers(values, 'width')?.[0];
    if (width === undefined) return;
    const needed = width ?? KINDS[values.kind].width_m, length = Math.hypot(piece.to[0] - piece.from[0], piece.to[1] - piece.from[1]);
    if (needed > length) return this.sketch.tell(say('wall_too_short', {length: figure(length, 2), width: figure(needed, 2)}));
    const at = openingAt(piece, share, needed);
    const wanted = values.name.trim() || `${piece.b === 'outside' ? piece.a : piece.b} ${nameOf('kind', values.kind)}`;
    const name = drawing.freeName(wanted, drawing.openingNames(this.sketch));
    await drawing.addOpening(this.sketch, name, values.kind, piece, at, width ? {width_m: width} : {});
    this.sketch.select({kind: 'opening', name});
    this.show();
  }

  _radio() {
    const profiles = (this.sketch.opened?.profiles ?? []).map(({name}) => name);
    const storey = this.sketch.values?.storeys?.[this.sketch.storeyPosition];
    const places = [
      ...drawing.roomNames(this.sketch).map((name) => ({value: `in ${name}`, text: say('in', {room: name})})),
      ...(storey?.openings ?? []).map(({name}) => ({value: `on ${name}`, text: say('on', {opening: name})})),
    ];
    this.#submit = (values) => this.addRadio(values, null);
    const profile = choice('profile', choices('profile', profiles), this.lastProfile ?? 'hub');
    const spots = choice('spot', [{value: '', text: say('spot_ceiling')}, ...SPOTS.map((value) => ({value, text: say(`spot_${value.replaceAll(' ', '_')}`)}))]);
    const usual = () => {
      const known = this.sketch.opened?.profiles.find(({name}) => name === profile.value);
      spots.value = known?.below_ceiling_m === undefined ? SPOTS[0] : '';
    };
    profile.addEventListener('change', usual);
    usual();
    const place = choice('place', places);
    place.addEventListener('change', () => { spots.disabled = place.value.startsWith('on '); });  // a door has no corners
    return [
      field(say('profile'), profile),
      field(say('place'), place),
      field(say('spot'), spots),
      field(say('height_if'), size('height')),
      field(say('name_if'), text('name', '', {maxLength: 60})),
      button(say('add_radio')),
    ];
  }

  /** A device on a door or window. */
  addRadioOn(opening) { return this.addRadio({...this.values(), place: `on ${opening}`}, null); }

  /** @param at  on the plan; null: as the form says */
  async addRadio(values, at) {
    const {profile} = values;
    this.lastProfile = profile;
    const kind = profile === 'hub' || profile === 'repeater' ? profile : 'device';
    const [, how, where] = /^(in|on) (.*)$/s.exec(values.place ?? '') ?? [];
    const room = at ? this.roomAt(at) : where;
    if (!at && !where) return this.sketch.tell(say('no_rooms'));
    const known = this.sketch.opened.profiles.find((one) => one.name === profile);
    const storey = this.sketch.opened.storeys[this.sketch.storeyPosition];
    let height = values.height.trim() === '' ? null : this.numbers(values, 'height')?.[0];
    if (height === undefined) return;
    const value = {profile};
    if (at) {
      height ??= known.height_m ?? (known.below_ceiling_m !== undefined ? storey.height_m - known.below_ceiling_m : 1.5);
      Object.assign(value, {storey: storey.name, at_m: at, height_m: round(height)});
    } else {
      value[how] = where;
      if (how === 'in' && values.spot) value.at = values.spot;
      if (height !== null) value.height_m = height;
    }
    const wanted = values.name.trim() || (kind === 'device' ? `${room ?? ''} ${nameOf('profile', profile)}`.trim() : nameOf('profile', kind));
    const name = drawing.freeName(wanted, drawing.radioNames(this.sketch));
    await drawing.addRadio(this.sketch, kind, name, value);
    this.sketch.select({kind, name});
    this.show();
  }

  roomAt(at) { return this.inside?.(at)?.name; }

  _storey() {
    this.#submit = async (values) => {
      const height = this.numbers(values, 'height');
      if (!height) return;
      const name = drawing.freeName(values.name.trim(), this.sketch.storeyNames);
      await drawing.addStorey(this.sketch, name, height[0]);
      this.sketch.goTo(name);
      this.choose('room');
    };
    const known = CONSTRUCTIONS, now = this.sketch.values?.construction;
    const construction = choice('construction', [{value: '', text: say('as_file')}, ...choices('construction', known)], now ?? '');
    construction.addEventListener('change', () => construction.value && drawing.setConstruction(this.sketch, construction.value));
    return [
      field(say('construction'), construction),
      field(say('name'), text('name', '', {required: true, maxLength: 60, placeholder: say('storey_example')})),
      field(say('clear_height'), size('height', '2.4')),
      button(say('add_storey')),
    ];
  }

  _photo() { return this.photo.fields(() => this.show()); }

  _change() {
    const {selected} = this.sketch;
    if (!selected) return [];
    const removing = button(say('remove'), {type: 'button', onclick: () => drawing.remove(this.sketch, selected)});
    const title = make('h3', {textContent: selected.name});
    switch (selected.kind) {
      case 'room': return [title, ...this.#roomFields(selected.name), removing];
      case 'opening': return [title, ...this.#openingFields(selected.name), removing];
      case 'obstacle':
      case 'wall':
      case 'area': return [title, ...this.#shapeFields(selected), removing];
      default: return [title, ...this.#radioFields(selected), removing];
    }
  }

  /** Fields of a shape by coordinates. */
  #placeFields(corners) {
    const rect = rectOf(corners);
    if (rect) return ['x', 'y', 'width', 'depth'].map((key, i) => field(say(key), size(key, String(round(rect[i], 0.001)))));
    return [field(corners.length === 2 ? say('ends') : say('corners'), text('corners', cornersText(corners), {size: 30}))];
  }

  /** The corners that those fields say; null and a word about it where they say none. */
  #typedPlace(values) {
    if (values.corners === undefined) {
      const rect = this.numbers(values, 'x', 'y', 'width', 'depth');
      return rect && rectangle(rect);
    }
    const corners = typedCorners(values.corners);
    const least = this.sketch.selected.kind === 'wall' ? 2 : 3;
    if (corners && (least === 2 ? corners.length === 2 : corners.length >= 3)) return corners;
    this.sketch.tell(say('no_corners', {text: values.corners}));
    return null;
  }

  #shapeFields(selected) {
    const before = drawing.cornersOf(this.sketch, selected);
    if (!before) return [];
    this.#submit = (values) => {
      const corners = this.#typedPlace(values);
      if (corners) drawing.reshape(this.sketch, selected, corners);
    };
    return [...this.#placeFields(before), button(say('change'))];
  }

  async #roomChanged(name, before, values) {
    const after = this.#typedPlace(values);
    if (!after) return;
    const thing = {kind: 'room', name}, [left, bottom] = boxOf(before), [x, y] = boxOf(after);
    const rect = rectOf(before), made = rectOf(after);
    if (cornersText(before) !== cornersText(after)) {
      const resized = rect && made && x === left && y === bottom && await drawing.resize(this.sketch, name, made.slice(2), before);
      const isMoved = rect && made && made[2] === rect[2] && made[3] === rect[3];
      if (!resized) await drawing.reshape(this.sketch, thing, after, isMoved ? [x - left, y - bottom] : null);
    }
    const newName = values.name.trim();
    await drawing.changeRoom(this.sketch, name, {newName});
    this.sketch.select({kind: 'room', name: newName || name});
  }

  #roomFields(name) {
    const corners = drawing.cornersOf(this.sketch, {kind: 'room', name});
    if (!corners) return [];
    this.#submit = (values) => this.#roomChanged(name, corners, values);
    const walls = this.sketch.pieces.filter(({a, b}) => a === name || b === name);
    const others = [...new Set(walls.map(({a, b}) => (a === name ? b : a)))];
    const wall = choice('other', others.map((value) => ({value, text: value === 'outside' ? say('outside') : value})), this.lastOther);
    const material = choice('material', [{value: '', text: say('usual_wall')}, ...choices('material', MATERIALS.wall)]);
    const thickness = size('thickness');
    const said = () => {
      const list = this.sketch.values?.storeys?.[this.sketch.storeyPosition]?.boundaries ?? [];
      const boundary = list.find(({between = []}) => between.includes(name) && between.includes(wall.value));
      material.value = boundary?.material ?? '';
      thickness.value = shown(boundary?.thickness_m ?? '');
    };
    wall.addEventListener('change', () => {
      this.lastOther = wall.value;
      said();
    });
    said();
    const changed = () => {
      const typed_m = typed(thickness.value);
      const needed = MATERIALS.thick.includes(material.value) ? 0.1 : undefined;
      drawing.setWall(this.sketch, name, wall.value, material.value, typed_m > 0 ? typed_m : needed);
    };
    material.addEventListener('change', changed);
    thickness.addEventListener('change', changed);
    return [
      field(say('name'), text('name', name, {required: true, maxLength: 60})),
      ...this.#placeFields(corners), button(say('change')), field(say('wall_to'), wall), field(say('made_of'), material), field(say('thickness'), thickness),
    ];
  }

  #openingFields(name) {
    const opening = this.sketch.here.openings.find((one) => one.name === name);
    if (!opening) return [];
    const width = Math.hypot(opening.to[0] - opening.from[0], opening.to[1] - opening.from[1]);
    const path = `/storeys/${token(this.sketch.storey)}/openings/${token(name)}`;
    this.#submit = (values) => {
      const numbers = this.numbers(values, 'width', 'shift');
      if (!numbers) return;
      const set = {};
      if (Math.abs(numbers[0] - round(width)) > 1e-6) set[`${path}/width_m`] = numbers[0];
      if (numbers[1] !== 0) set[`${path}/at_m`] = this.slid(opening, numbers[1]);
      if (Object.keys(set).length > 0) this.sketch.edit({set});
    };
    return [field(say('opening_width'), size('width', String(round(width)))), field(say('shift'), size('shift', '0')), button(say('change'))];
  }

  /** The middle of an opening after a slide along its wall, and within it. */
  slid({from, to}, by) {
    const middle = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
    const width = Math.hypot(to[0] - from[0], to[1] - from[1]);
    const piece = this.sketch.pieces.find((one) => nearestOn(one, middle).distance < 0.01);
    if (!piece) return middle;
    const length = Math.hypot(piece.to[0] - piece.from[0], piece.to[1] - piece.from[1]);
    return openingAt(piece, nearestOn(piece, middle).share + by / length, width);
  }

  #radioFields({kind, name}) {
    const radio = this.sketch.radio(kind, name);
    if (!radio) return [];
    this.#submit = (values) => {
      const numbers = this.numbers(values, 'x', 'y', 'height');
      if (!numbers) return;
      const [x, y, height] = numbers, set = {};
      if (x !== radio.at[0] || y !== radio.at[1]) set[`${radioPath(kind, name)}/at_m`] = [x, y];
      if (height !== radio.height) set[`${radioPath(kind, name)}/height_m`] = height;
      if (Object.keys(set).length > 0) this.sketch.edit({set});
    };
    const said = drawing.mobilityOf(this.sketch, kind, name);
    const rooms = drawing.roomNames(this.sketch).map((room) => ({value: `in ${room}`, text: say('may_within', {room})}));
    const reaches = [0.15, 0.5, 1].map((radius) => ({value: String(radius), text: say('may_radius', {radius: figure(radius, 2)})}));
    const now = said?.within !== undefined ? `in ${said.within}` : said?.radius_m !== undefined ? String(said.radius_m) : said ? 'file' : '';
    const known = [{value: '', text: say('may_not')}, ...reaches, ...rooms, {value: 'draw', text: say('may_draw')}];
    if (!known.some(({value}) => value === now)) known.push({value: now, text: say('as_file')});
    const may = choice('may_move', known, now);
    may.addEventListener('change', () => {
      const {value} = may;
      if (value === 'draw') {
        this.reachOf = {kind, name};
        return this.sketch.tell(say('draw_reach'));
      }
      const reach = value === '' ? null : value.startsWith('in ') ? {within: value.slice(3)} : {radius_m: Number(value)};
      drawing.setMobility(this.sketch, kind, name, reach);
    });
    return [
      field(say('x'), size('x', String(radio.at[0]))), field(say('y'), size('y', String(radio.at[1]))),
      field(say('height'), size('height', String(radio.height))), button(say('change')), field(say('may_move'), may),
    ];
  }
}
