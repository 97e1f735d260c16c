// Hubs, repeaters and devices on the plan, names of rooms and areas, and the words beside them.
import {arranged, standing} from './labels.mjs';
import {element, middle} from './svg.mjs';

const SIGNS = {
  weak: 'M0 -7 L7 6 L-7 6 Z',
  doubtful: 'M0 -7 L7 0 L0 7 L-7 0 Z',
  good: 'M-6 0 A6 6 0 1 0 6 0 A6 6 0 1 0 -6 0 Z',
  none: 'M-4 -4 H4 V4 H-4 Z',
  hub: 'M-8 -8 H8 V8 H-8 Z M-4 -4 H4 V4 H-4 Z',
  repeater: 'M-8 0 L0 -8 L8 0 L0 8 Z M-3 0 L0 -3 L3 0 L0 3 Z',
};
const WIDEST = '100 % ✓';  // words keep room for it: their place does not depend on what they say
const RANKS = ['hub', 'repeater', 'device'];

export class Symbols {
  isBusy = false;  // while something is dragged: figures in full
  #symbols = new Map();
  #names = [];     // of rooms: {at, name, words}
  #doors = [];     // ends of openings
  #stood = new Map();  // where words stood, by key: {at, pixel, side, level}

  /** @param view  where they are shown. @param layers  for names and for symbols */
  constructor(view, {names, radios}) {
    Object.assign(this, {view, names, radios});
    const pen = document.createElement('canvas').getContext('2d'), known = new Map(), {fontFamily} = getComputedStyle(view.svg);
    this.wide = (line) => {
      if (!known.has(line)) {
        pen.font = `${line.includes('%') ? 'bold ' : ''}12px ${fontFamily}`;
        if (known.size > 5000) known.clear();
        known.set(line, pen.measureText(line).width + 1);
      }
      return known.get(line);
    };
  }

  /** @param doors  openings: {from, to}. @param words  names in the middle of corners: [{name, text, corners, kind}] */
  draw(radios, selected, words, doors) {
    this.#doors = doors;
    this.#names = words.map((one) => this.#name(one));
    this.names.replaceChildren(...this.#names.map(({at, words: made}) => this.view.pinned(at, {}, made)));
    this.#symbols.clear();
    const ranked = [...radios].sort((one, other) => RANKS.indexOf(one.kind) - RANKS.indexOf(other.kind));
    this.radios.replaceChildren(...ranked.map((radio) => this.#symbol(radio, selected)));
  }

  /** A name in the middle of its corners, which stands there where nothing else does. */
  #name({name, text, corners, kind = ''}) {
    const words = element('text', {'text-anchor': 'middle', class: kind});
    words.textContent = text;
    return {key: `${kind}/${name}`, name: text, at: middle(corners), words, isName: true};
  }

  #symbol({name, kind, at}, selected) {
    const sign = element('path', {d: SIGNS[kind] ?? SIGNS.none, class: 'sign', 'fill-rule': 'evenodd'});
    const paper = element('rect', {class: 'paper', rx: 2});
    const texts = [element('text'), element('text')];
    const words = element('g', {}, paper, ...texts);
    const tooltip = element('title');
    tooltip.textContent = name;
    const isSelected = selected?.kind === kind && selected.name === name;
    const made = this.view.pinned(at, {class: `radio ${kind}${isSelected ? ' selected' : ''}`, 'data-kind': kind, 'data-name': name},
                                  element('circle', {r: 15, class: 'grip'}), words, sign, tooltip);
    this.#symbols.set(`${kind}/${name}`, {
      key: `${kind}/${name}`, made, at, sign, words, paper, texts, tooltip, name, reading: '', text: '', outcome: undefined, shown: undefined});
    return made;
  }

  /** The figures beside a device. @param outcome  weak, doubtful or good; null: not known. @param reading  the shortest of them */
  figure(name, outcome, reading, text) {
    const symbol = this.#symbols.get(`device/${name}`);
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

  move(kind, name, at) {
    const symbol = this.#symbols.get(`${kind}/${name}`);
    if (!symbol) return;
    symbol.at = at;
    symbol.isMoving = true;
    this.view.move(symbol.made, at);
  }

  /** Words beside the symbols, in one order whatever they say. Only what is moved or said otherwise is touched. */
  arrange() {
    const {view} = this, {enlarged, unit} = view;
    const scaled = (at) => view.within(at).map((value) => value / enlarged);
    const all = [...this.#symbols.values(), ...this.#names];
    const things = all.map((one) => {
      const {key, at, isName, isMoving} = one, stood = this.#stood.get(key);
      const stays = stood && stood.unit === unit && stood.at[0] === at[0] && stood.at[1] === at[1];
      return {at: scaled(at), isName, isMoving: this.isBusy && isMoving, ...this.#says(one), stood: stays || isMoving ? stood : undefined};
    });
    const doors = this.#doors.map(({from, to}) => {
      const [[x1, y1], [x2, y2]] = [scaled(from), scaled(to)];
      return [Math.min(x1, x2) - 2, Math.min(y1, y2) - 2, Math.max(x1, x2) + 2, Math.max(y1, y2) + 2];
    });
    arranged(things, view.size.map((value) => value / enlarged), doors, this.wide).forEach((found, i) => {
      const one = all[i];
      this.#stand(one, found && {side: found.side, lines: found.isFull ? found.lines : things[i].lines[found.level]});
      if (found) this.#stood.set(one.key, {at: one.at, unit, side: found.side, level: found.level});
      else this.#stood.delete(one.key);
    });
  }

  /** What stands beside a symbol, the fullest first; its place goes by `options`, whose width is the same whatever is said. */
  #says({made, name, reading, text, outcome}) {
    if (!made?.classList.contains('device')) return {options: [[name]], lines: [[name]]};
    const isFull = text && (this.isBusy || outcome !== 'good');
    return {options: [[name, WIDEST], [WIDEST]], lines: text ? [[name, reading], [reading]] : [[name], []], fuller: isFull ? [[name, text], [text]] : []};
  }

  #stand(symbol, placed) {
    const shown = placed && `${placed.side}/${placed.lines.join('/')}`;
    if (shown === symbol.shown) return;
    symbol.shown = shown;
    symbol.words.style.display = placed?.lines.length ? '' : 'none';
    if (!placed?.lines.length) return;
    const {anchor, x, bases, paper} = standing(placed, this.wide);
    if (symbol.isName) return symbol.words.setAttribute('y', bases[0]);
    ['x', 'y', 'width', 'height'].forEach((name, i) => symbol.paper.setAttribute(name, paper[i]));
    symbol.texts.forEach((text, i) => {
      const line = placed.lines[i] ?? '';
      if (text.firstChild?.data !== line) text.textContent = line;
      if (!line) return;
      text.classList.toggle('figures', line !== symbol.name);
      text.setAttribute('text-anchor', anchor);
      text.setAttribute('x', x);
      text.setAttribute('y', bases[i]);
    });
  }
}
