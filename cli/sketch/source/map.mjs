// The map of a storey, coarse first and finer while nothing changes, a few rows at a time, in the colours of the report; what would be
// weak is hatched as well.
import {byId} from './dom.mjs';
import {colours} from './palette.mjs';
import {element} from './svg.mjs';
import {percent, say} from './words.mjs';

const STEPS_M = [1, 0.5, 0.25];
const CELLS_AT_ONCE = 400;
const CELL_PIXELS = 8;
const HATCH = [255, 255, 255];

/** Colours of readings, by the percent at which something is weak. */
function looksOf(weak) {
  const all = colours(weak / 100).reverse();
  return (reading) => all.find(({from}) => reading >= 100 * from) ?? all.at(-1);
}

function painted({columns, rows, weak_below_percent: weak}, cells) {
  const canvas = document.createElement('canvas');
  canvas.width = columns * CELL_PIXELS;
  canvas.height = rows * CELL_PIXELS;
  const pen = canvas.getContext('2d');
  const looks = looksOf(weak), picture = pen.createImageData(canvas.width, canvas.height);
  const shown = Array.from(cells, (reading) => (Number.isNaN(reading) ? null : looks(reading)));
  for (let y = 0; y < canvas.height; ++y) {
    const row = rows - 1 - Math.floor(y / CELL_PIXELS);
    for (let x = 0; x < canvas.width; ++x) {
      const look = shown[row * columns + Math.floor(x / CELL_PIXELS)], at = 4 * (y * canvas.width + x);
      if (!look) continue;
      picture.data.set(look.isWeak && (x + y) % CELL_PIXELS < 1 ? HATCH : look.rgb, at);
      picture.data[at + 3] = 255;
    }
  }
  pen.putImageData(picture, 0, 0);
  return canvas.toDataURL();
}

/** What the colours mean, from 0 to 100 %. */
function scale(weak) {
  const all = colours(weak / 100), width = 300;
  const boxes = all.map(({from, rgb}, i) => element('rect', {
    x: from * width, y: 0, width: ((all[i + 1]?.from ?? 1) - from) * width, height: 14, fill: `rgb(${rgb})`}));
  const marks = [[0, 'start'], [weak, 'middle'], [100, 'end']].map(([at, anchor]) => {
    const words = element('text', {x: at * width / 100, y: 30, 'text-anchor': anchor});
    words.textContent = percent(at);
    return words;
  });
  const hatches = Array.from({length: Math.floor(weak * width / 800)}, (_, i) => element('path', {d: `M${8 * i} 14 l8 -14`, class: 'hatch'}));
  const line = element('path', {d: `M${weak * width / 100} -2 v18`, class: 'line'});
  return element('svg', {viewBox: `-2 -3 ${width + 4} 38`, class: 'scale', role: 'img', 'aria-label': say('map_scale', {weak})}, ...boxes, ...hatches, line, ...marks);
}

export class MapView {
  #turn = 0;

  constructor(sketch, view, results) {
    Object.assign(this, {sketch, view, results});
    byId('show-map').addEventListener('change', () => this.show());
  }

  async show() {
    const turn = ++this.#turn;
    const {sketch, view, results} = this;
    const shown = byId('show-map').checked && sketch.checked && sketch.here.rooms.length > 0;
    const weak = sketch.checked?.weak_below_percent;
    byId('key').replaceChildren(...(shown ? [scale(weak), say('map_key', {weak})] : []));
    if (!shown) return view.map(null);
    for (const step of STEPS_M) {
      const asked = [sketch.isOpen, sketch.storey, step];
      const frame = await results.inSlow('map', ...asked, 0, 0);
      if (turn !== this.#turn) return;
      if (frame.status !== 'done') return sketch.tell(frame.answer?.error ?? say('no_answer'));
      const {columns, rows, origin_m} = frame.answer;
      if (columns * rows > 20_000 && step < 1) return;
      const cells = new Float32Array(columns * rows);
      const together = Math.max(1, Math.floor(CELLS_AT_ONCE / columns));
      for (let row = 0; row < rows; row += together) {
        const count = Math.min(together, rows - row);
        const said = await results.inSlow('map', ...asked, row, count, columns);
        if (turn !== this.#turn) return;
        if (said.status !== 'done') return;
        cells.set(said.cells, row * columns);
      }
      view.map(painted(frame.answer, cells), origin_m, columns * step, rows * step);
    }
  }
}
