// The drawing of a storey: SVG in metres with y downwards, sizes that stay the same on the screen at any zoom. What is dragged
// is moved here at once; all else is drawn anew when the plan changes.
import {boxOf} from './geometry.mjs';
import {arranged, lineHeight, standing} from './labels.mjs';

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

const path = (corners) => corners.map(([x, y], i) => `${i ? 'L' : 'M'}${x} ${-y}`).join(' ') + ' Z';

export class PlanView {
  /** @param svg  the element to draw in */
  constructor(svg) {
    this.svg = svg;
    this.layers = {};
    for (const name of ['under', 'below', 'map', 'rooms', 'obstacles', 'walls', 'openings', 'way', 'names', 'radios', 'draft'])
      svg.append((this.layers[name] = element('g', {class: `layer-${name}`})));
    this.view = [-2, -8, 14, 10];  // x, y (downwards), width, height
    this.symbols = new Map();
    new ResizeObserver(() => this.show()).observe(svg);
  }

  /** Metres that a pixel of the screen is. */
  get pixel() {
    const {width, height} = this.svg.getBoundingClientRect();
    return Math.max(this.view[2] / (width || 1), this.view[3] / (height || 1));
  }

  /** Where a pointer is, in metres, y up. */
  place(event) {
    const box = this.svg.getBoundingClientRect(), pixel = this.pixel;
    return [
      this.view[0] + this.view[2] / 2 + (event.clientX - box.left - box.width / 2) * pixel,
      -(this.view[1] + this.view[3] / 2 + (event.clientY - box.top - box.height / 2) * pixel),
    ];
  }

  /** Where a place of the plan is on the screen. */
  onScreen([x, y]) {
    const box = this.svg.getBoundingClientRect(), pixel = this.pixel;
    return [
      box.left + box.width / 2 + (x - this.view[0] - this.view[2] / 2) / pixel,
      box.top + box.height / 2 + (-y - this.view[1] - this.view[3] / 2) / pixel,
    ];
  }

  show() {
    this.svg.setAttribute('viewBox', this.view.join(' '));
    const pixel = this.pixel;
    if (pixel === this.shownPixel) return;
    this.shownPixel = pixel;
    for (const one of this.svg.querySelectorAll('[data-x]'))
      one.setAttribute('transform', `translate(${one.dataset.x} ${-one.dataset.y}) scale(${pixel})`);
    this.arrange();
  }

  /** Words beside the symbols, what matters most first. */
  arrange() {
    const rank = ({made}) => ['selected', 'weak', 'doubtful', 'hub', 'repeater'].findIndex((name) => made.classList.contains(name));
    const symbols = [...this.symbols.values()].sort((p, q) => (rank(p) + 6) % 6 - (rank(q) + 6) % 6);
    const box = this.svg.getBoundingClientRect();
    const things = symbols.map(({at, label, figures}) => {
      const [x, y] = this.onScreen(at);
      return {at: [x - box.left, y - box.top], lines: [label.textContent, figures.textContent].filter(Boolean)};
    });
    arranged(things, [box.width, box.height]).forEach((found, i) => {
      const {label, figures} = symbols[i];
      const {lines} = things[i];
      const texts = [label, figures].slice(0, lines.length);
      const place = found && standing(found, lines.length);
      texts.forEach((text, line) => {
        const isShown = found !== null && line >= found.from;
        text.style.display = isShown ? '' : 'none';
        if (!isShown) return;
        text.setAttribute('text-anchor', place.anchor);
        text.setAttribute('x', place.x);
        text.setAttribute('y', place.y + (line - found.from) * lineHeight);
      });
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

  fit(storey) {
    const points = [...storey.rooms.flatMap((room) => room.corners), ...storey.radios.map((radio) => radio.at)];
    if (points.length === 0) return;
    const [left, bottom, right, top] = boxOf(points);
    const edge = 0.08 * Math.max(right - left, top - bottom) + 0.7;
    this.view = [left - edge, -top - edge, right - left + 2 * edge, top - bottom + 2 * edge];
    this.show();
  }

  /** A thing of the screen's size at a place of the plan. */
  pinned([x, y], attributes, ...children) {
    return element('g', {...attributes, 'data-x': x, 'data-y': y, transform: `translate(${x} ${-y}) scale(${this.pixel})`}, ...children);
  }

  move(pinned, [x, y]) {
    pinned.dataset.x = x;
    pinned.dataset.y = y;
    pinned.setAttribute('transform', `translate(${x} ${-y}) scale(${this.pixel})`);
  }

  /** @param storey  of planOf(). @param below  the one under it, or null. @param obstacles  [{name, corners}] */
  draw(storey, below, obstacles, selected) {
    const {layers} = this;
    layers.below.replaceChildren(...(below?.rooms ?? []).map(({corners}) => element('path', {d: path(corners)})));
    layers.rooms.replaceChildren(...storey.rooms.map(({name, corners}) => element(
        'path', {d: path(corners), 'data-kind': 'room', 'data-name': name, class: selected?.kind === 'room' && selected.name === name ? 'selected' : ''})));
    layers.obstacles.replaceChildren(...obstacles.map(({name, corners}) => element(
        'path', {d: path(corners), 'data-kind': 'obstacle', 'data-name': name, class: selected?.kind === 'obstacle' && selected.name === name ? 'selected' : ''})));
    layers.walls.replaceChildren(...storey.walls.map(({from, to, thickness}) => element(
        'line', {x1: from[0], y1: -from[1], x2: to[0], y2: -to[1], 'stroke-width': Math.max(0.06, thickness)})));
    layers.openings.replaceChildren(...storey.openings.map(({name, kind, from, to}) => element('line', {
      x1: from[0], y1: -from[1], x2: to[0], y2: -to[1], class: `${kind}${selected?.kind === 'opening' && selected.name === name ? ' selected' : ''}`,
      'data-kind': 'opening', 'data-name': name,
    })));
    layers.names.replaceChildren(...storey.rooms.map(({name, corners}) => {
      const [left, bottom, right, top] = boxOf(corners);
      const text = element('text', {'text-anchor': 'middle'});
      text.textContent = name;
      return this.pinned([(left + right) / 2, (bottom + top) / 2], {}, text);
    }));
    this.symbols.clear();
    layers.radios.replaceChildren(...storey.radios.map((radio) => this.#symbol(radio, selected)));
  }

  #symbol({name, kind, at}, selected) {
    const sign = element('path', {d: SIGNS[kind] ?? SIGNS.none, class: 'sign', 'fill-rule': 'evenodd'});
    const label = element('text');
    const figures = element('text', {class: 'figures'});
    const tooltip = element('title');
    label.textContent = tooltip.textContent = name;
    const isSelected = selected?.kind === kind && selected.name === name;
    const made = this.pinned(at, {class: `radio ${kind}${isSelected ? ' selected' : ''}`, 'data-kind': kind, 'data-name': name},
                             element('circle', {r: 15, class: 'grip'}), sign, label, figures, tooltip);
    this.symbols.set(`${kind}/${name}`, {made, at, sign, label, figures, tooltip});
    return made;
  }

  /** The figures beside a device. @param outcome  weak, doubtful or good; null: not known */
  figure(name, outcome, text) {
    const symbol = this.symbols.get(`device/${name}`);
    if (!symbol) return;
    symbol.sign.setAttribute('d', SIGNS[outcome ?? 'none']);
    symbol.made.classList.remove('weak', 'doubtful', 'good');
    if (outcome) symbol.made.classList.add(outcome);
    if (symbol.figures.textContent === text) return;
    symbol.figures.textContent = text;
    symbol.tooltip.textContent = `${name}: ${text}`;
  }

  moveRadio(kind, name, at) {
    const symbol = this.symbols.get(`${kind}/${name}`);
    if (!symbol) return;
    symbol.at = at;
    this.move(symbol.made, at);
  }

  way(from, to) {
    this.layers.way.replaceChildren(...(from && to ? [element('line', {x1: from[0], y1: -from[1], x2: to[0], y2: -to[1]})] : []));
  }

  draft(corners, text = '') {
    if (!corners) return this.layers.draft.replaceChildren();
    const label = element('text', {'text-anchor': 'middle', y: -8});
    label.textContent = text;
    this.layers.draft.replaceChildren(element('path', {d: path(corners)}),
                                      this.pinned([(corners[0][0] + corners[2][0]) / 2, (corners[0][1] + corners[2][1]) / 2], {}, label));
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
