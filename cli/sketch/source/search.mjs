// Better places for hubs and repeaters, from a coarse search to a fine one. What was found is of the site as it was then: it goes with every
// change.
import {advised} from './advice.mjs';
import {byId, make} from './dom.mjs';
import {boxOf, isInside, round} from './geometry.mjs';
import {chance, figure, say} from './words.mjs';

const STEPS_M = [2, 1, 0.5];

export class Search {
  #turn = 0;
  #of = null;  // the site that was searched

  constructor(sketch, results) {
    Object.assign(this, {sketch, results});
    byId('search').addEventListener('click', () => this.make());
  }

  get #site() { return [this.sketch.text, this.sketch.language, this.sketch.doors, this.sketch.readingsCsv()].join('\n'); }

  /** After every change of the site. */
  show() {
    const {checked, values} = this.sketch;
    const lacks = !values?.hubs || !values?.devices ? say('search_needs_radios') : !checked ? say('search_needs_site') : '';
    byId('search').disabled = lacks !== '';
    if (!lacks && this.#of === this.#site) return;
    ++this.#turn;
    this.#of = null;
    byId('places').textContent = lacks;
  }

  async make() {
    const {sketch} = this, place = byId('places'), turn = ++this.#turn;
    this.#of = this.#site;
    place.textContent = say('calculating');
    for (const step of STEPS_M) {
      const said = await this.results.inSlow('placeStep', sketch.isOpen, true, step);
      if (turn !== this.#turn) return;
      if (said.status !== 'done') return (place.textContent = advised(said.answer?.error ?? say('no_answer'), sketch.language));
      this.#found(said.answer, step);
    }
  }

  /** The lowest chance of a device as things are. */
  #worstNow() { return Math.min(...this.sketch.checked.devices.map((one) => one.chance)); }

  #found(answer, step) {
    const [choice] = answer.choices;
    const whole = (value) => (Array.isArray(value) ? value.map((one) => round(one)) : value);
    // What is taken out has no value: metal that a hub leaves behind it.
    const set = Object.fromEntries(choice.edits.filter(({value}) => value !== null).map(({path, value}) => [path, whole(value)]));
    const remove = choice.edits.filter(({value}) => value === null).map(({path}) => path);
    const use = make('button', {textContent: say('search_use'), onclick: () => this.sketch.edit({set, ...(remove.length > 0 ? {remove} : {})})});
    const where = [...choice.hubs, ...choice.repeaters].map((one) => say('search_at', {
      name: one.hub ?? one.repeater, where: this.#where(one), height: figure(one.height_m, 1)})).join('; ');
    byId('places').replaceChildren(
        make('span', {textContent: say('search_found', {step: figure(step, 1), where, worst: chance(choice.worst_pass_probability), now: chance(this.#worstNow())})}),
        ...(choice.edits.length > 0 ? [' ', use] : []));
  }

  /** Room and walls of a place: the two sides of the room that are nearest to it. */
  #where({at_m: [x, y], storey}) {
    const room = this.sketch.plan.get(storey)?.rooms.find(({corners}) => isInside(corners, [x, y]));
    if (!room) return say('search_outside', {storey, x: figure(x, 2), y: figure(y, 2)});
    const [left, bottom, right, top] = boxOf(room.corners);
    const nearest = (...sides) => sides.sort((one, other) => one[1] - other[1])[0];
    const [one, other] = [nearest(['left', x - left], ['right', right - x]), nearest(['bottom', y - bottom], ['top', top - y])]
                             .sort((first, second) => first[1] - second[1]);
    return say('search_where', {room: room.name, storey, far: figure(one[1], 1), side: say(`side_${one[0]}`), off: figure(other[1], 1), other: say(`side_${other[0]}`)});
  }
}
