// The map of a storey, coarse first and finer while nothing changes, a few rows at a time. Light to dark is low to high; what
// would be weak is hatched as well.
import {byId} from './dom.mjs';
import {say} from './words.mjs';

const STEPS_M = [1, 0.5, 0.25];
const CELLS_AT_ONCE = 400;
const CELL_PIXELS = 8;

/** Colours of 0 and 100 %. */
const LOW = [236, 214, 178], HIGH = [58, 92, 120];

function painted({columns, rows, weak_below_percent: weak}, cells) {
  const canvas = document.createElement('canvas');
  canvas.width = columns * CELL_PIXELS;
  canvas.height = rows * CELL_PIXELS;
  const pen = canvas.getContext('2d');
  const picture = pen.createImageData(canvas.width, canvas.height);
  for (let y = 0; y < canvas.height; ++y) {
    const row = rows - 1 - Math.floor(y / CELL_PIXELS);
    for (let x = 0; x < canvas.width; ++x) {
      const reading = cells[row * columns + Math.floor(x / CELL_PIXELS)];
      const at = 4 * (y * canvas.width + x);
      if (Number.isNaN(reading)) continue;
      const share = Math.min(1, Math.max(0, reading / 100));
      const hatched = reading < weak && (x + y) % CELL_PIXELS < 2;
      for (let i = 0; i < 3; ++i) picture.data[at + i] = hatched ? 90 : LOW[i] + share * (HIGH[i] - LOW[i]);
      picture.data[at + 3] = 255;
    }
  }
  pen.putImageData(picture, 0, 0);
  return canvas.toDataURL();
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
    byId('key').textContent = shown ? say('map_key', {weak: sketch.checked.weak_below_percent}) : '';
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
