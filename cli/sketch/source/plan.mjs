// The drawing of a storey: SVG in metres with y downwards, sizes that stay the same on the screen at any zoom. What is dragged
// is moved here at once; all else is drawn anew when the plan changes.
import {boxOf} from './geometry.mjs';
import {element, ends, line, middle, path} from './svg.mjs';
import {Symbols} from './symbols.mjs';

export class PlanView {
  /** @param svg  the element to draw in */
  constructor(svg) {
    this.svg = svg;
    this.layers = {};
    for (const name of ['grid', 'under', 'below', 'map', 'rooms', 'areas', 'obstacles', 'casing', 'walls', 'edges', 'openings', 'reach', 'way', 'names', 'handles', 'radios', 'draft', 'scale'])
      svg.append((this.layers[name] = element('g', {class: `layer-${name}`})));
    this.view = [-2, -8, 14, 10];  // x, y (downwards), width, height
    this.symbols = new Symbols(this, this.layers);
    this.marked = [null];  // the wall that a form is about
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
  within([x, y]) {
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
    return points.every((at) => this.within(at).every((pixels, i) => pixels >= 0 && pixels <= this.size[i]));
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
    const [x, y] = this.within(at);
    return [left + x, top + y];
  }

  show() {
    this.svg.setAttribute('viewBox', this.view.join(' '));
    this.#grid();
    const {unit} = this;
    if (unit === this.shownUnit) return this.symbols.arrange();
    this.shownUnit = unit;
    for (const one of this.svg.querySelectorAll('[data-x]'))
      one.setAttribute('transform', `translate(${one.dataset.x} ${-one.dataset.y}) scale(${unit})`);
    this.symbols.arrange();
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
   * @param shapes  {obstacles, walls, areas}: [{name, corners, text}]; {pieces}: of walls; {leaf}: what an opening looks like;
   *                {reach}: how far what is selected may be moved, or null; {handles}: corners that can be dragged
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
    const thick = (wider) => storey.walls.map(({from, to, thickness}) => element('line', {...ends(from, to), 'stroke-width': Math.max(0.06, thickness) + wider}));
    layers.casing.replaceChildren(...thick(0.08));
    layers.walls.replaceChildren(
        ...thick(0), ...shapes.walls.map(({name, corners: [from, to]}) => element('line', {...ends(from, to), 'stroke-width': 0.3, ...state('wall', name, 'single')})));
    layers.edges.replaceChildren(...shapes.pieces.map(({a, b, from, to}) => element(
        'line', {...ends(from, to), 'data-a': a, 'data-b': b, ...state('boundary', JSON.stringify([a, b]))})));
    this.mark(...this.marked);
    layers.openings.replaceChildren(...storey.openings.flatMap(({name, kind, from, to, thickness}) => {
      const looks = `${kind} ${shapes.leaf(name) ?? kind}`, hit = Math.max(0.22, thickness);
      return [element('line', {...ends(from, to), 'stroke-width': thickness, class: looks}),
              element('line', {...ends(from, to), 'stroke-width': 0.2 * thickness, class: `${looks} inner`}),
              element('line', {...ends(from, to), 'stroke-width': hit, ...state('opening', name, 'hit')})];
    }));
    this.reach(shapes.reach);
    layers.handles.replaceChildren(...shapes.handles.map((at, i) => this.pinned(at, {'data-handle': i}, element('rect', {x: -5, y: -5, width: 10, height: 10}))));
    this.symbols.draw(storey.radios, selected,
                      [...storey.rooms.map(({name, corners}) => ({name, text: name, corners})), ...shapes.areas.map((one) => ({...one, kind: 'area'}))],
                      storey.openings);
  }

  /** How far a radio may be moved: {corners}, {line} or {at, radius}; null: nothing is shown. */
  reach(of) {
    let shown = [];
    if (of?.corners) shown = [element('path', {d: path(of.corners)})];
    else if (of?.line) shown = [element('path', {d: line(of.line), class: 'line'})];
    else if (of) shown = [element('circle', {cx: of.at[0], cy: -of.at[1], r: of.radius})];
    this.layers.reach.replaceChildren(...shown);
  }

  /** Shows which wall a form is about: [a, b], the rooms beside it; or one piece of it. */
  mark(rooms, piece = null) {
    this.marked = [rooms, piece];
    for (const one of this.layers.edges.children) {
      const {a, b, name} = one.dataset;
      const isIt = rooms ? (rooms.includes(a) && rooms.includes(b)) : piece && name === JSON.stringify([piece.a, piece.b]) &&
        Object.entries(ends(piece.from, piece.to)).every(([key, value]) => Number(one.getAttribute(key)) === value);
      one.classList.toggle('marked', Boolean(isIt));
    }
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
