// One worker with the module in it. What ends it (a trap) is survived: the next call has a new worker, in which the site that
// was opened last is opened again.

const LATE = ['explain', 'placeStep', 'report'];  // calls that the second module is for

export class Predictor {
  told = null;  // called with the percentage of a call that tells how far it is
  #worker = null;
  #number = 0;
  #ends = 0;
  #waiting = new Map();
  #opened = null;
  #make;
  #module;
  #late;

  /** @param make  makes a worker. @param module  compiled, shared by all workers. @param late  gives the second one, compiled */
  constructor(make, module, late) {
    this.#make = make;
    this.#module = module;
    this.#late = late;
  }

  /** @returns {Promise<object>} what the worker says: {status, answer}; {status: 'ended'} after a trap */
  async call(name, ...given) {
    const ends = this.#ends;
    const late = LATE.includes(name) ? await this.#late() : null;
    if (ends !== this.#ends) return {status: 'ended', answer: {error: 'stopped'}};
    if (!this.#worker) {
      this.#worker = this.#make();
      this.#worker.onmessage = ({data}) => this.#hear(data);
      this.#worker.onerror = (event) => this.#end(event.message);
      this.#send('start', this.#module);
      if (this.#opened && name !== 'open') this.#send('open', ...this.#opened);
    }
    if (name === 'open') this.#opened = given;
    if (late) this.#send('add', late);
    return this.#send(name, ...given);
  }

  /** Ends what is being calculated, which nobody waits for any more. */
  stop() { if (this.#waiting.size > 0) this.#end('stopped'); }

  /** Ends the worker as well where nothing is calculated: its memory is given back. */
  end() { this.#end('stopped'); }

  #send(name, ...given) {
    const number = ++this.#number;
    const said = new Promise((resolve) => this.#waiting.set(number, resolve));
    this.#worker.postMessage({number, name, given});
    return said;
  }

  #hear({number, said, ended, told}) {
    if (told !== undefined) return this.told?.(told);
    if (ended !== undefined) return this.#end(ended);
    this.#waiting.get(number)?.(said);
    this.#waiting.delete(number);
  }

  #end(why) {
    ++this.#ends;
    this.#worker?.terminate();
    this.#worker = null;
    const waiting = [...this.#waiting.values()];
    this.#waiting.clear();
    for (const resolve of waiting) resolve({status: 'ended', answer: {error: why}});
  }
}
