// What the library says, beside the plan: the devices with their figures, faults, why a device reads what it reads.
import {advised} from './advice.mjs';
import {byId, hand, make} from './dom.mjs';
import {thingAt} from './drawing.mjs';
import {chance, figure, percent, say, typed, wholePercent} from './words.mjs';

const ORDER = {weak: 0, doubtful: 1, good: 2};
const HEADS = ['device', 'reading', 'read', 'range', 'chance', 'by'];
const SIGNS = {weak: '▲', doubtful: '◆', good: '●'};

export class Results {
  constructor(sketch, view, chooseThing) {
    Object.assign(this, {sketch, view, chooseThing});
    byId('save-readings').addEventListener('click', () => hand('readings.csv', sketch.readingsCsv(), 'text/csv'));
  }

  /** After every change of figures: beside the symbols at once. */
  figures() {
    for (const one of this.sketch.checked?.devices ?? []) {
      const read = this.sketch.readings.counting(one.device, this.sketch.moving);
      const expected = this.#reading(one);
      const reading = read === undefined ? expected : `${percent(read)} ✓`;
      const figures = {low: figure(one.low), high: percent(one.high), chance: chance(one.chance)};
      const text = read === undefined ? say('figures', {reading, ...figures}) : say('figures_read', {reading: percent(read), expected, ...figures});
      this.view.symbols.figure(one.device, one.outcome, reading, text);
    }
    this.view.symbols.arrange();
  }

  /** The reading that is expected, in whole percent. */
  #reading({reading}) { return percent(wholePercent(reading, this.sketch.checked.weak_below_percent)); }

  all() {
    this.figures();
    this.#verdict();
    this.#table();
    this.#areas();
    this.#faults();
  }

  #verdict() {
    const devices = this.sketch.checked?.devices;
    const count = (outcome) => devices.filter((one) => one.outcome === outcome).length;
    let text = '';
    if (devices?.length) {
      const weak = count('weak'), doubtful = count('doubtful');
      text = weak + doubtful === 0 ? say('all_good', {count: devices.length})
                                   : say('not_all_good', {count: devices.length, weak, doubtful});
    } else if (devices) {
      text = say('no_devices');
    }
    byId('verdict').textContent = text;
  }

  #table() {
    const {sketch} = this;
    const devices = [...(sketch.checked?.devices ?? [])].sort(
        (p, q) => ORDER[p.outcome] - ORDER[q.outcome] || p.reading - q.reading);
    byId('save-readings').hidden = byId('read-sign').hidden = sketch.readings.size === 0;
    const table = byId('devices');
    if (devices.length === 0) return table.replaceChildren();
    const focused = document.activeElement?.closest?.('#devices') ? document.activeElement.dataset.device : null;
    const heads = this.#heads().map((key) => make('th', {scope: 'col', textContent: say(`head_${key}`)}));
    table.replaceChildren(make('thead', {}, make('tr', {}, ...heads)), make('tbody', {}, ...devices.map((one) => this.#row(one))));
    if (focused) table.querySelector(`input[data-device="${CSS.escape(focused)}"]`)?.focus();
  }

  /** Who receives a device is said where there is a choice. */
  #heads() {
    const {hubs, repeaters} = this.sketch.values ?? {};
    const receivers = Object.keys(hubs ?? {}).length + Object.keys(repeaters ?? {}).length;
    return receivers > 1 ? HEADS : HEADS.slice(0, -1);
  }

  #row(one) {
    const {sketch} = this;
    const read = sketch.readings.percent(one.device), moved = read === undefined ? null : sketch.readings.moved(one.device);
    const input = make('input', {
      size: 4, inputMode: 'decimal', value: read === undefined ? '' : String(read), 'aria-label': say('read_of', {device: one.device}),
      'data-device': one.device,
      onchange: ({target}) => {
        const text = target.value.replace('%', '').trim();
        const value = text === '' ? null : typed(text);
        if (value !== null && !(value >= 0 && value <= 100)) {
          sketch.tell(say('no_percent', {text}));
          return;
        }
        sketch.setReading(one.device, value);
      },
    });
    const name = make('button', {className: 'plain', textContent: one.device, onclick: () => this.chooseThing({kind: 'device', name: one.device})});
    const sign = make('span', {className: 'mark', textContent: SIGNS[one.outcome] ?? ''});
    const outcome = make('span', {className: 'soft', textContent: ` (${say(`is_${one.outcome}`)})`});
    const taken = moved ? make('span', {className: 'taken'}, input, make('span', {className: 'soft', textContent: say(`read_elsewhere_${moved}`)})) : input;
    const cells = [this.#reading(one), taken, say('from_to', {from: figure(one.low), to: percent(one.high)}), chance(one.chance),
                   [...one.via, one.hub].join(', ')].slice(0, this.#heads().length - 1);
    return make('tr', {className: one.outcome}, make('th', {scope: 'row'}, make('span', {className: 'of'}, sign, make('span', {}, name, outcome))),
                ...cells.map((cell, i) => make('td', {'data-head': say(`head_${HEADS[i + 1]}`)}, cell)));
  }

  /** Where remotes are used: in words, with the mark of the outcome. */
  #areas() {
    const areas = this.sketch.checked?.areas ?? [];
    byId('areas').replaceChildren(...areas.map(({area, by, share, wanted, weak}) => {
      const outcome = weak ? 'weak' : 'good';
      const words = say('area_result', {area, share: percent(Math.floor(share)), by, wanted: percent(wanted), outcome: say(`is_${outcome}`)});
      return make('li', {className: `of ${outcome}`}, make('span', {className: 'mark', textContent: SIGNS[outcome], 'aria-hidden': 'true'}),
                  make('span', {textContent: words}));
    }));
  }

  #faults() {
    const faults = this.sketch.opened?.faults ?? [];
    byId('faults-part').hidden = faults.length === 0;
    byId('faults').replaceChildren(...faults.slice(0, 50).map(({line, column, path, code, message, hint}) => {
      if (code === 'missing_key' && path === '/hubs') return make('li', {textContent: say('no_hub', {task: say('task_radio')})});
      const thing = thingAt(path, this.sketch.values);
      const where = thing ? make('button', {className: 'plain', textContent: say('fault_show', {name: thing.name}), onclick: () => this.chooseThing(thing)})
                          : make('span', {className: 'soft', textContent: line > 0 ? say('at_line', {line, column}) : ''});
      return make('li', {textContent: `${message}${hint ? ` (${hint})` : ''} `}, where);
    }));
  }

  /** Why the selected device reads what it reads, and what to try. */
  async why() {
    const {sketch} = this;
    const {selected} = sketch;
    const part = byId('why-part');
    const turn = (this.turn = (this.turn ?? 0) + 1);
    const link = sketch.checked?.devices.find((one) => one.device === selected?.name);
    part.hidden = selected?.kind !== 'device' || !link;
    const device = link && sketch.radio('device', selected.name);
    const other = link && (sketch.radio('repeater', link.via[0]) ?? sketch.radio('hub', link.hub));
    this.view.way(device?.storey === sketch.storey ? device?.at : null, other?.at);
    if (part.hidden) return;
    byId('why-title').textContent = say('why', {device: selected.name});
    byId('why').textContent = say('calculating');
    const said = await this.inSlow('explain', sketch.isOpen, selected.name);
    if (turn !== this.turn) return;
    const text = said.status === 'done' ? advised(said.answer.text, sketch.language) : say('no_answer');
    byId('why').replaceChildren(...text.split('\n').map((line) => make(
        /[\d.:,]/.test(line) || line.length > 40 ? 'p' : 'h3', {textContent: line})));
  }

  /** A call in the worker for what takes longer, of the site as it is. */
  async inSlow(name, ...given) {
    const {sketch} = this;
    const key = `${sketch.language}\n${sketch.readingsCsv()}\n${sketch.text}`;
    if (key !== this.inSlowWorker) {
      sketch.slow.stop();
      this.inSlowWorker = key;
      sketch.slow.call('open', sketch.text, sketch.language, sketch.readingsCsv());
    }
    return sketch.slow.call(name, ...given);
  }
}
