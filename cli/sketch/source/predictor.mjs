// One worker with the module in it. What ends it (a trap) is survived: the next call has a new worker, in which the site that
// was opened last is opened again.

export class Predictor {
  #worker = null;
  #number = 0;
  #waiting = new Map();
  #opened = null;
  #make;
  #module;

  /** @param make  makes a worker. @param module  compiled, shared by all workers */
  constructor(make, module) {
    this.#make = make;
    this.#module = module;
  }

  /** @returns {Promise<object>} what the worker says: {status, answer}; {status: 'ended'} after a trap */
  async call(name, ...given) {
    if (!this.#worker) {
      this.#worker = this.#make();
      this.#worker.onmessage = ({data}) => this.#hear(data);
      this.#worker.onerror = (event) => this.#end(event.message);
      this.#send('start', this.#module);
      if (this.#opened && name !== 'open') this.#send('open', ...this.#opened);
    }
    if (name === 'open') this.#opened = given;
    return this.#send(name, ...given);
  }

  /** Ends what is being calculated, which nobody waits for any more. */
  stop() { if (this.#waiting.size > 0) this.#end('stopped'); }

  #send(name, ...given) {
    const number = ++this.#number;
    const said = new Promise((resolve) => this.#waiting.set(number, resolve));
    this.#worker.postMessage({number, name, given});
    return said;
  }

  #hear({number, said, ended}) {
    if (ended !== undefined) return this.#end(ended);
    this.#waiting.get(number)?.(said);
    this.#waiting.delete(number);
  }

  #end(why) {
    this.#worker?.terminate();
    this.#worker = null;
    const waiting = [...this.#waiting.values()];
    this.#waiting.clear();
    for (const resolve of waiting) resolve({status: 'ended', answer: {error: why}});
  }
}
