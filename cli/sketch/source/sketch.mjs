// The site that is drawn: its text, what was changed, and what the library says of it. Views listen; nothing here sees the page.
import {addHoles, planOf, wallPieces} from './geometry.mjs';
import {holesOf} from './openings.mjs';
import {Readings} from './readings.mjs';
import {values} from './site_text.mjs';
import {say} from './words.mjs';

export const token = (name) => name.replaceAll('~', '~0').replaceAll('/', '~1');
const SECTIONS = {hub: 'hubs', repeater: 'repeaters', device: 'devices'};
export const radioPath = (kind, name) => `/${SECTIONS[kind]}/${token(name)}`;
export const sectionOf = (kind) => SECTIONS[kind];

const EMPTY = {rooms: [], walls: [], openings: [], radios: []};

export class Sketch extends EventTarget {
  text = '';
  shownText = null;       // the text that all below is of
  values = null;          // of the text
  opened = null;          // what the library says of the whole: storeys, profiles, faults
  plan = new Map();
  checked = null;         // figures of the devices; null where there are faults
  storey = '';
  doors = 'armed';
  language = 'en';
  readings = new Readings((kind, name) => this.radio(kind, name));
  selected = null;        // {kind, name}
  #undo = [];
  #redo = [];
  #turn = 0;
  #pieces = new WeakMap();  // of walls, by the rooms
  #drag = null;

  /** @param figures  a Predictor that is asked at every move. @param slow  one for what takes longer */
  constructor(figures, slow) {
    super();
    this.figures = figures;
    this.slow = slow;
  }

  get isOpen() { return this.doors === 'open'; }
  get here() { return this.plan.get(this.storey) ?? EMPTY; }
  get storeyNames() { return (this.opened?.storeys ?? []).map(({name}) => name); }
  get storeyPosition() { return Math.max(0, this.storeyNames.indexOf(this.storey)); }
  get below() { return this.plan.get(this.storeyNames[this.storeyPosition - 1]) ?? null; }
  get pieces() {
    const {rooms} = this.here;
    if (!this.#pieces.has(rooms)) this.#pieces.set(rooms, wallPieces(rooms));
    return this.#pieces.get(rooms);
  }

  get canUndo() { return this.#undo.length > 0; }
  get canRedo() { return this.#redo.length > 0; }

  readingsCsv() { return this.readings.csv(); }

  /** 'kind/name' of what is dragged; null: nothing. */
  get moving() { return this.#drag?.moving ?? null; }

  /** Another site, or another text of this one. */
  async show(text, {anew = false} = {}) {
    if (anew) {
      this.#undo = [];
      this.#redo = [];
      this.selected = null;
      this.storey = '';
    }
    this.text = text;
    await this.#refresh();
  }

  /** A change that can be taken back. */
  async change(text) {
    if (text === this.text) return;
    this.tell('');  // what was told was of what is no more
    this.#undo.push(this.text);
    this.#redo = [];
    await this.show(text);
  }

  async undo() {
    if (!this.canUndo) return;
    this.#redo.push(this.text);
    await this.show(this.#undo.pop());
  }

  async redo() {
    if (!this.canRedo) return;
    this.#undo.push(this.text);
    await this.show(this.#redo.pop());
  }

  /** A change that the library makes: {set}, {remove}. @returns whether it was made; else the faults are told */
  async edit(edits) {
    const said = await this.figures.call('edit', edits);
    if (said.status === 'done') {
      await this.change(said.answer);
      return true;
    }
    this.tell(this.#why(said));
    await this.figures.call('open', this.text, this.language, this.readingsCsv());
    return false;
  }

  /** A radio is dragged: figures follow as quickly as they are known. */
  drag(kind, name, at) {
    const edits = {set: {[`${radioPath(kind, name)}/at_m`]: at}};
    this.#drag ??= {next: null, fault: '', isAsking: false, done: null, moving: `${kind}/${name}`, isFirst: true};
    this.#drag.next = edits;
    if (!this.#drag.isAsking) this.#drag.done = this.#follow();
  }

  async #follow() {
    const drag = this.#drag;
    drag.isAsking = true;
    if (drag.isFirst && this.readings.csv(drag.moving) !== this.readingsCsv()) await this.figures.call('read', this.readings.csv(drag.moving));
    drag.isFirst = false;
    while (drag.next) {
      const edits = drag.next;
      drag.next = null;
      const said = await this.figures.call('editAndCheck', edits, this.isOpen);
      drag.fault = said.status === 'done' ? '' : this.#why(said);
      if (drag.fault) continue;
      this.checked = said.answer;
      this.#emit('figures');
    }
    drag.isAsking = false;
  }

  /** The radio is let go. */
  async drop() {
    if (!this.#drag) return;
    const {done} = this.#drag;
    await done;
    const {fault} = this.#drag;
    this.#drag = null;
    const said = fault ? {status: 'faults'} : await this.figures.call('text');
    if (said.status === 'done' && said.answer !== this.text) return this.change(said.answer);
    if (said.status !== 'done') this.tell(fault || this.#why(said));
    await this.show(this.text);
  }

  async setReading(device, percent) {
    if (percent === null) this.readings.drop(device);
    else this.readings.take(device, percent, this.checked?.devices.find((one) => one.device === device));
    await this.show(this.text);
  }

  select(selected) {
    this.selected = selected;
    this.#emit('selected');
  }

  goTo(storey) {
    this.storey = storey;
    this.#emit('site');
  }

  tell(text) { this.dispatchEvent(new CustomEvent('tip', {detail: text})); }

  /** Radios of all storeys. */
  radio(kind, name) {
    for (const [storey, {radios}] of this.plan) {
      const found = radios.find((radio) => radio.kind === kind && radio.name === name);
      if (found) return {...found, storey};
    }
    return null;
  }

  #why({answer}) {
    const fault = answer?.faults?.[0];
    if (!fault) return answer?.error ?? '';
    return fault.hint ? `${fault.message} (${fault.hint})` : fault.message;
  }

  async #refresh() {
    const turn = ++this.#turn;
    this.values = values(this.text);
    const read = this.readingsCsv();
    const said = await this.figures.call('open', this.text, this.language, read);
    if (turn !== this.#turn) return;
    if (said.plan) {
      this.plan = planOf(said.plan);
      for (const storey of this.values?.storeys ?? []) if (this.plan.has(storey.name)) addHoles(this.plan.get(storey.name), holesOf(storey));
    }
    // Readings that do not count any more, as something was moved, are known by the new plan.
    if (said.status === 'done' && this.readingsCsv() !== read) said.read = await this.figures.call('read', this.readingsCsv());
    if (turn !== this.#turn) return;
    let checked = null;
    if (said.status === 'done') {
      const answer = await this.figures.call('check', this.isOpen);
      if (turn !== this.#turn) return;
      if (answer.status === 'done') checked = answer.answer;
      else this.tell(this.#why(answer));
    }
    if (said.status === 'ended') {
      this.opened = {site: '', storeys: this.opened?.storeys ?? [], profiles: this.opened?.profiles ?? [], areas: [],
                     faults: [{message: say('ended'), hint: '', line: 0, column: 0}]};
    } else {
      this.opened = said.answer;
      if (!said.plan) this.plan = new Map();
      if (said.read && said.read.status !== 'done') this.readings.clear();
    }
    if (!this.storeyNames.includes(this.storey)) this.storey = this.storeyNames[0] ?? '';
    this.checked = checked;
    this.shownText = this.text;
    this.#emit('site');
  }

  #emit(what) { this.dispatchEvent(new Event(what)); }
}
