// The C interface (lib/linkmargin/c/linkmargin.h) as a WebAssembly module, for pages, workers and Node. What is asked for late, why,
// places and the report, is in a second module, which is added to the first.

const STATUS = ['done', 'faults', 'refused', 'too_small', 'no_memory', 'defect'];
const NOT_SUPPORTED = 52;  // of WASI: ENOSYS

const isMissing = () => { throw new Error('the second module was not added'); };

/** What an instance asks its host for: nothing that a prediction needs, and what the second module brings. */
function imports(module) {
  const made = {};
  for (const {module: from, name} of WebAssembly.Module.imports(module)) {
    (made[from] ??= {})[name] = from === 'late' ? isMissing : () => NOT_SUPPORTED;
  }
  return made;
}

/** A function (i32, f64) of the page as one that the module's table takes: imported into a module of nothing else, and exported. */
function tableFunction(call) {
  const bytes = [0, 0x61, 0x73, 0x6d, 1, 0, 0, 0,     // WebAssembly, version 1
                 1, 6, 1, 0x60, 2, 0x7f, 0x7c, 0,     // a type: (i32, f64), no result
                 2, 7, 1, 1, 0x61, 1, 0x61, 0, 0,     // imported as a.a
                 7, 5, 1, 1, 0x61, 0, 0];             // exported as a
  return new WebAssembly.Instance(new WebAssembly.Module(new Uint8Array(bytes)), {a: {a: call}}).exports.a;
}

/** One instance. After a trap (WebAssembly.RuntimeError) it is of no more use. */
export class Library {
  static async of(module) {
    const library = new Library();
    library.c = (await WebAssembly.instantiate(module, imports(module))).exports;
    library.c._initialize();
    return library;
  }

  /** The second module, for check(), explain(), placeStep() and report(). */
  add(late) {
    if (this.isWhole) return;
    new WebAssembly.Instance(late, {first: this.c});
    this.isWhole = true;
  }

  /** @returns {{status: string, answer: object, site: number}} a handle, or 0 */
  open(text, language = 'en') {
    const place = this.c.malloc(4);
    const tag = this.#given(language);
    const said = this.#call((answer) => this.#with(text, (at, bytes) => this.c.lm_open(at, bytes, tag, place, answer)));
    const site = this.#view().getUint32(place, true);
    this.c.free(tag);
    this.c.free(place);
    return {...said, site};
  }

  close(site) { this.c.lm_close(site); }
  text(site) { return this.#call((answer) => this.c.lm_text(site, answer), false); }
  edit(site, edits) {
    return this.#call((answer) => this.#with(JSON.stringify({cases: [{name: 'edit', ...edits}]}),
                                             (at, bytes) => this.c.lm_edit(site, at, bytes, answer)));
  }
  read(site, csv) {
    return this.#call((answer) => this.#with(csv, (at, bytes) => this.c.lm_read(site, at, bytes, answer)));
  }
  plan(site) { return this.#call((answer) => this.c.lm_plan(site, answer)); }
  check(site, doorsOpen) { return this.#call((answer) => this.c.lm_check(site, doorsOpen ? 1 : 0, answer)); }
  figures(site, doorsOpen) { return this.#call((answer) => this.c.lm_figures(site, doorsOpen ? 1 : 0, answer)); }
  explain(site, doorsOpen, device) {
    return this.#call((answer) => this.#with(device, (at) => this.c.lm_explain(site, doorsOpen ? 1 : 0, at, answer)));
  }
  placeStep(site, doorsOpen, anywhere, step_m) {
    return this.#call((answer) => this.c.lm_place_step(site, doorsOpen ? 1 : 0, anywhere ? 1 : 0, step_m, answer));
  }

  /** The report page, a text. @param date  as it is shown. @param told  called with the share that is done */
  report(site, doorsOpen, date, told) {
    const table = this.c.__indirect_function_table;
    this.told = told;
    this.progress ??= table.grow(1, tableFunction((context, share) => this.told(share)));
    return this.#call((answer) => this.#with(date, (at) => this.c.lm_report(site, doorsOpen ? 1 : 0, at, this.progress, 0, answer)), false);
  }

  /** @param rows  how many; 0: the frame alone. @returns also `cells`, a Float32Array */
  map(site, doorsOpen, storey, step_m, first, rows, columns = 0) {
    const capacity = rows * columns;
    const cells = this.c.malloc(4 * capacity + 4);
    const said = this.#call((answer) => this.#with(storey, (at) => this.c.lm_map(
        site, doorsOpen ? 1 : 0, at, step_m, first, rows, cells, capacity, answer)));
    const copy = new Float32Array(this.c.memory.buffer, cells, capacity).slice();
    this.c.free(cells);
    return {...said, cells: copy};
  }

  get bytes() { return this.c.memory.buffer.byteLength; }

  #view() { return new DataView(this.c.memory.buffer); }

  #given(text, bytes = new TextEncoder().encode(text)) {
    const at = this.c.malloc(bytes.length + 1);
    const memory = new Uint8Array(this.c.memory.buffer);
    memory.set(bytes, at);
    memory[at + bytes.length] = 0;
    return at;
  }

  #with(text, call) {
    const bytes = new TextEncoder().encode(text);
    const at = this.#given(text, bytes);
    const status = call(at, bytes.length);
    this.c.free(at);
    return status;
  }

  #call(call, isJson = true) {
    const place = this.c.malloc(4);
    this.#view().setUint32(place, 0, true);
    const status = STATUS[call(place)] ?? 'defect';
    const at = this.#view().getUint32(place, true);
    let text = '';
    if (at !== 0) {
      const memory = new Uint8Array(this.c.memory.buffer);
      text = new TextDecoder().decode(memory.subarray(at, memory.indexOf(0, at)));
    }
    this.c.lm_free(at);
    this.c.free(place);
    const json = isJson || status !== 'done';
    return {status, answer: json ? JSON.parse(text || '{"error": "no memory"}') : text};
  }
}
