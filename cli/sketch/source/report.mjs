// The report page of the site as it was when it was asked for, made in a worker of its own: drawing goes on meanwhile.
import {byId, hand} from './dom.mjs';
import {fileName} from './keep.mjs';
import {say} from './words.mjs';

export class Report {
  #percent = null;  // that is done; null: none is made
  #turn = 0;

  constructor(sketch, predictor) {
    Object.assign(this, {sketch, predictor});
    predictor.told = (percent) => this.show(percent);
    byId('report').addEventListener('click', () => (this.#percent === null ? this.make() : this.stop()));
  }

  show(percent = this.#percent) {
    this.#percent = percent;
    const button = byId('report');
    button.textContent = percent === null ? say('report') : say('report_stop', {percent});
    // As wide as the longest of its labels, so that nothing beside it moves.
    button.dataset.widest = [say('report'), say('report_stop', {percent: 100})].sort((one, other) => other.length - one.length)[0];
  }

  stop() {
    ++this.#turn;
    this.predictor.end();
    this.show(null);
    this.sketch.tell(say('report_stopped'));
  }

  async make() {
    const {sketch, predictor} = this;
    if (!sketch.checked) return sketch.tell(say('search_needs_site'));
    const turn = ++this.#turn;
    this.show(0);
    sketch.tell(say('report_begun'));
    const name = fileName(sketch, 'html');
    predictor.call('open', sketch.text, sketch.language, sketch.readingsCsv());
    const {status, answer} = await predictor.call('report', sketch.isOpen, new Date().toISOString().slice(0, 10));
    if (turn !== this.#turn) return;
    predictor.end();
    this.show(null);
    if (status !== 'done') return sketch.tell(answer.error ?? say('no_answer'));
    hand(name, answer, 'text/html');
    sketch.tell(say('report_done', {name}));
  }
}
