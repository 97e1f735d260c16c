// The drawing of a storey: SVG in metres with y downwards, sizes that stay the same on the screen at any zoom. What is dragged
// is moved here at once; all else is drawn anew when the plan changes.
import {boxOf} from './geometry.mjs';
import {arranged, standing} from './labels.mjs';

const SVG = 'http://www.w3.org/2000/svg';
const SIGNS = {
  weak: 'M0 -7 L7 6 L-7 6 Z',
  doubtful: 'M0 -7 L7 0 L0 7 L-7 0 Z',
  good: 'M-6 0 A6 6 0 1 0 6 0 A6 6 0 1 0 -6 0 Z',
  none: 'M-4 -4 H4 V4 H-4 Z',
  hub: 'M-8 -8 H8 V8 H-8 Z M-4 -4 H4 V4 H-4 Z',
  repeater: 'M-8 0 L0 -8 L8 0 L0 8 Z M-3 0 L0 -3 L3 0 L0 3 Z',
};

export function element(name, attributes = {}, ...children) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...children);
  return made;
}

const line = (points) => points.map(([x, y], i) => `${i ? 'L' : 'M'}${x} ${-y}`).join(' ');
const path = (corners) => `${line(corners)} Z`;
const ends = ([x1, y1], [x2, y2]) => ({x1, y1: -y1, x2, y2: -y2});
const middle = (points) => {
  const [left, bottom, right, top] = boxOf(points);
  return [(left + right) / 2, (bottom + top) / 2];
};

export class PlanView {
  /** @param svg  the element to draw in */
  constructor(svg) {
    this.svg = svg;
    this.layers = {};
    for (const name of ['grid', 'under', 'below', 'map', 'rooms', 'areas', 'obstacles', 'walls', 'openings', 'reach', 'way', 'names', 'handles', 'radios', 'draft', 'scale'])
      svg.append((this.layers[name] = element('g', {class: `layer-${name}`})));
    this.view = [-2, -8, 14, 10];  // x, y (downwards), width, height
    this.symbols = new Map();
    this.names = [];  // of rooms: {at, name, text}
    this.isBusy = false;  // while something is dragged: figures in full
    this.#measure();
    new ResizeObserver(() => {
      this.#measure();
      this.show();
    }).observe(svg);
  }

  /** The size on the screen is asked for when it changes: to ask while something is dragged would lay the page out anew. */
  #measure() {
    this.size = [this.svg.clientWidth || 1, this.svg.clientHeight || 1];
    this.enlarged = Math.min(1.5, Math.max(1, this.size[0] / 1100));
  }

  /** Metres that a unit of symbols and words is: a pixel, more on a large screen. */
  get unit() { return this.pixel * this.enlarged; }

  /** Metres that a pixel of the screen is. */
  get pixel() { return Math.max(this.view[2] / this.size[0], this.view[3] / this.size[1]); }

  /** Pixels from the drawing's upper left corner to a place of the plan. */
  #within([x, y]) {
    const {pixel, size, view} = this;
    return [size[0] / 2 + (x - view[0] - view[2] / 2) / pixel, size[1] / 2 + (-y - view[1] - view[3] / 2) / pixel];
  }

  /** The drawing's upper left corner on the screen. */
  get #corner() {
    const {left, top} = this.svg.getBoundingClientRect();
    return [left + this.svg.clientLeft, top + this.svg.clientTop];
  }

  /** Whether all of them are in sight. */
  shows(points) {
    return points.every((at) => this.#within(at).every((pixels, i) => pixels >= 0 && pixels <= this.size[i]));
  }

  /** Where a pointer is, in metres, y up. */
  place(event) {
    const [left, top] = this.#corner;
    const {pixel, size, view} = this;
    return [
      view[0] + view[2] / 2 + (event.clientX - left - size[0] / 2) * pixel,
      -(view[1] + view[3] / 2 + (event.clientY - top - size[1] / 2) * pixel),
    ];
  }

  /** Where a place of the plan is on the screen. */
  onScreen(at) {
    const [left, top] = this.#corner;
    const [x, y] = this.#within(at);
    return [left + x, top + y];
  }

  show() {
    this.svg.setAttribute('viewBox', this.view.join(' '));
    this.#grid();
    const {unit} = this;
    if (unit === this.shownUnit) return this.arrange();
    this.shownUnit = unit;
    for (const one of this.svg.querySelectorAll('[data-x]'))
      one.setAttribute('transform', `translate(${one.dataset.x} ${-one.dataset.y}) scale(${unit})`);
    this.arrange();
  }

  /** Lines a metre apart, or as many as can be told apart, and how far that is. */
  #grid() {
    const {pixel, size, unit} = this;
    const step = [1, 2, 5, 10, 50].find((one) => one > 24 * pixel) ?? 100;
    const width = size[0] * pixel, height = size[1] * pixel;
    const left = this.view[0] + (this.view[2] - width) / 2, top = this.view[1] + (this.view[3] - height) / 2;
    const along = (from, length) => Array.from({length: Math.ceil(length / step) + 1}, (_, i) => (Math.floor(from / step) + i) * step);
    const lines = [...along(left, width).map((x) => `M${x} ${top}v${height}`), ...along(top, height).map((y) => `M${left} ${y}h${width}`)];
    if (!this.layers.grid.firstChild) {
      this.layers.grid.append(element('path'));
      this.layers.scale.append(element('path'), element('text', {'text-anchor': 'middle', y: -6}));
    }
    this.layers.grid.firstChild.setAttribute('d', lines.join(''));
    const [bar, words] = this.layers.scale.children, half = step / 2 / unit;
    bar.setAttribute('d', `M${-half} -4V0H${half}V-4`);
    words.textContent = `${step} m`;
    this.layers.scale.setAttribute('transform', `translate(${left + step / 2 + 12 * unit} ${top + height - 10 * unit}) scale(${unit})`);
  }

  /** Words beside the symbols, what matters most first. Only what is moved or said otherwise is touched. */
  arrange() {
    const ranks = ['selected', 'weak', 'doubtful', 'hub', 'repeater'];
    const rank = ({made}) => (ranks.findIndex((name) => made.classList.contains(name)) + ranks.length + 1) % (ranks.length + 1);
    const ranked = [...this.symbols.values()].map((symbol) => [rank(symbol), symbol]).sort((p, q) => p[0] - q[0]);
    const symbols = [...ranked.map(([, symbol]) => symbol), ...this.names];
    const things = symbols.map((symbol) => ({
      at: this.#within(symbol.at).map((value) => value / this.enlarged), options: this.#options(symbol), side: symbol.stands?.side,
      isName: symbol.isName,
    }));
    arranged(things, this.size.map((value) => value / this.enlarged)).forEach((found, i) => this.#stand(symbols[i], found));
  }

  /** What may stand beside a symbol, the fullest first. Good readings are said in full while something is dragged. */
  #options({name, reading, text, outcome, isName}) {
    if (isName || !text) return [[name]];
    const shorter = [[name, reading], [reading]];
    return this.isBusy || outcome !== 'good' ? [[name, text], [text], ...shorter] : shorter;
  }

  #stand(symbol, found) {
    const key = found && `${found.side}/${found.lines.join('/')}`;
    if (key === symbol.key) return;
    symbol.key = key;
    symbol.stands = found;
    symbol.words.style.display = found ? '' : 'none';
    if (!found || symbol.isName) return;
    const {anchor, x, bases, paper} = standing(found);
    ['x', 'y', 'width', 'height'].forEach((name, i) => symbol.paper.setAttribute(name, paper[i]));
    symbol.texts.forEach((text, i) => {
      const line = found.lines[i] ?? '';
      if (text.firstChild?.data !== line) text.textContent = line;
      if (!line) return;
      text.classList.toggle('figures', line !== symbol.name);
      text.setAttribute('text-anchor', anchor);
      text.setAttribute('x', x);
      text.setAttribute('y', bases[i]);
    });
  }

  zoom(factor, about = null) {
    const [x, y, width, height] = this.view;
    const kept = Math.min(400, Math.max(1, width * factor)) / width;
    const [ax, ay] = about ? [about[0], -about[1]] : [x + width / 2, y + height / 2];
    this.view = [ax - (ax - x) * kept, ay - (ay - y) * kept, width * kept, height * kept];
    this.show();
  }

  pan(dx, dy) {
    this.view[0] -= dx;
    this.view[1] += dy;
    this.show();
    this.arrange();
  }

  /** @param more  places that are to be seen too */
  fit(storey, more = []) {
    const points = [...storey.rooms.flatMap((room) => room.corners), ...storey.walls.flatMap(({from, to}) => [from, to]),
                    ...storey.radios.map((radio) => radio.at), ...more];
    if (points.length === 0) return;
    const [left, bottom, right, top] = boxOf(points);
    const edge = 0.08 * Math.max(right - left, top - bottom) + 0.7;
    this.view = [left - edge, -top - edge, right - left + 2 * edge, top - bottom + 2 * edge];
    this.show();
  }

  /** A thing of the screen's size at a place of the plan. */
  pinned([x, y], attributes, ...children) {
    return element('g', {...attributes, 'data-x': x, 'data-y': y, transform: `translate(${x} ${-y}) scale(${this.unit})`}, ...children);
  }

  move(pinned, [x, y]) {
    pinned.dataset.x = x;
    pinned.dataset.y = y;
    pinned.setAttribute('transform', `translate(${x} ${-y}) scale(${this.unit})`);
  }

  /**
   * @param storey  of planOf(). @param below  the one under it, or null
   * @param shapes  {obstacles, walls, areas}: [{name, corners, text}]; {reach}: how far what is selected may be moved, or null;
   *                {handles}: corners that can be dragged
   */
  draw(storey, below, shapes, selected) {
    const {layers} = this;
    const state = (kind, name, more = '') => ({
      'data-kind': kind, 'data-name': name, class: `${more}${selected?.kind === kind && selected.name === name ? ' selected' : ''}`.trim(),
    });
    layers.below.replaceChildren(...(below?.rooms ?? []).map(({corners}) => element('path', {d: path(corners)})));
    layers.rooms.replaceChildren(...storey.rooms.map(({name, corners}) => element('path', {d: path(corners), ...state('room', name)})));
    layers.areas.replaceChildren(...shapes.areas.map(({name, corners}) => element('path', {d: path(corners), ...state('area', name)})));
    layers.obstacles.replaceChildren(...shapes.obstacles.map(({name, corners}) => element('path', {d: path(corners), ...state('obstacle', name)})));
    layers.walls.replaceChildren(
        ...storey.walls.map(({from, to, thickness}) => element('line', {...ends(from, to), 'stroke-width': Math.max(0.06, thickness)})),
        ...shapes.walls.map(({name, corners: [from, to]}) => element('line', {...ends(from, to), 'stroke-width': 0.3, ...state('wall', name, 'single')})));
    layers.openings.replaceChildren(...storey.openings.map(({name, kind, from, to}) => element(
        'line', {...ends(from, to), ...state('opening', name, kind)})));
    this.names = [...storey.rooms.map(({name, corners}) => this.#name(name, corners)),
                  ...shapes.areas.map(({text, corners}) => this.#name(text, corners, 'area'))];
    layers.names.replaceChildren(...this.names.map(({at, words}) => this.pinned(at, {}, words)));
    this.reach(shapes.reach);
    layers.handles.replaceChildren(...shapes.handles.map((at, i) => this.pinned(at, {'data-handle': i}, element('rect', {x: -5, y: -5, width: 10, height: 10}))));
    this.symbols.clear();
    layers.radios.replaceChildren(...storey.radios.map((radio) => this.#symbol(radio, selected)));
  }

  /** How far a radio may be moved: {corners}, {line} or {at, radius}; null: nothing is shown. */
  reach(of) {
    let shown = [];
    if (of?.corners) shown = [element('path', {d: path(of.corners)})];
    else if (of?.line) shown = [element('path', {d: line(of.line), class: 'line'})];
    else if (of) shown = [element('circle', {cx: of.at[0], cy: -of.at[1], r: of.radius})];
    this.layers.reach.replaceChildren(...shown);
  }

  /** A name in the middle of its corners, which stands there where nothing else does. */
  #name(name, corners, kind = '') {
    const words = element('text', {'text-anchor': 'middle', y: 4, class: kind});
    words.textContent = name;
    return {name, at: middle(corners), words, isName: true, key: undefined};
  }

  #symbol({name, kind, at}, selected) {
    const sign = element('path', {d: SIGNS[kind] ?? SIGNS.none, class: 'sign', 'fill-rule': 'evenodd'});
    const paper = element('rect', {class: 'paper', rx: 2});
    const texts = [element('text'), element('text')];
    const words = element('g', {}, paper, ...texts);
    const tooltip = element('title');
    tooltip.textContent = name;
    const isSelected = selected?.kind === kind && selected.name === name;
    const made = this.pinned(at, {class: `radio ${kind}${isSelected ? ' selected' : ''}`, 'data-kind': kind, 'data-name': name},
                             element('circle', {r: 15, class: 'grip'}), words, sign, tooltip);
    this.symbols.set(`${kind}/${name}`, {
      made, at, sign, words, paper, texts, tooltip, name, reading: '', text: '', outcome: undefined, stands: null, key: undefined});
    return made;
  }

  /** The figures beside a device. @param outcome  weak, doubtful or good; null: not known. @param reading  the shortest of them */
  figure(name, outcome, reading, text) {
    const symbol = this.symbols.get(`device/${name}`);
    if (!symbol) return;
    if (symbol.outcome !== outcome) {
      symbol.outcome = outcome;
      symbol.sign.setAttribute('d', SIGNS[outcome ?? 'none']);
      symbol.made.classList.remove('weak', 'doubtful', 'good');
      if (outcome) symbol.made.classList.add(outcome);
    }
    if (symbol.text === text) return;
    Object.assign(symbol, {reading, text});
    symbol.tooltip.textContent = `${name}: ${text}`;
  }

  moveRadio(kind, name, at) {
    const symbol = this.symbols.get(`${kind}/${name}`);
    if (!symbol) return;
    symbol.at = at;
    this.move(symbol.made, at);
  }

  way(from, to) {
    this.layers.way.replaceChildren(...(from && to ? [element('line', ends(from, to))] : []));
  }

  /** What is being drawn. @param isOpen  its ends do not meet */
  draft(points, text = '', isOpen = false) {
    if (!points) return this.layers.draft.replaceChildren();
    const label = element('text', {'text-anchor': 'middle', y: -8});
    label.textContent = text;
    this.layers.draft.replaceChildren(
        element('path', {d: isOpen ? line(points) : path(points), class: isOpen ? 'line' : ''}),
        this.pinned(isOpen ? middle(points.slice(-2)) : middle(points), {}, label));
  }

  /** The map as a picture. @param address  of the picture, or null */
  map(address, origin, width_m, height_m) {
    this.svg.classList.toggle('with-map', address !== null);
    this.layers.map.replaceChildren(...(address ? [element('image', {
      href: address, x: origin[0], y: -origin[1] - height_m, width: width_m, height: height_m, preserveAspectRatio: 'none',
    })] : []));
  }

  /** A picture under the plan: {address, at, width, height, degrees, opacity}, or null. */
  under(picture) {
    this.layers.under.replaceChildren(...(picture ? [element('image', {
      href: picture.address, x: picture.at[0], y: -picture.at[1] - picture.height, width: picture.width, height: picture.height,
      opacity: picture.opacity, preserveAspectRatio: 'none',
      transform: `rotate(${picture.degrees} ${picture.at[0] + picture.width / 2} ${-picture.at[1] - picture.height / 2})`,
    })] : []));
  }
}
