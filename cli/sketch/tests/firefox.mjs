// A Firefox without a screen, spoken to by WebDriver BiDi (W3C), as far as the tests need it: FIREFOX names the program.
import {spawn} from 'node:child_process';
import {mkdtempSync, rmSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import WebSocket from 'ws';

const PROGRAM = process.env.FIREFOX ?? '/usr/bin/firefox-esr';

/** The address that the browser says it listens on. */
function listening(browser) {
  return new Promise((resolve, reject) => {
    let said = '';
    browser.stderr.on('data', (part) => {
      said += part;
      const address = /WebDriver BiDi listening on (ws:\S+)/.exec(said);
      if (address) resolve(address[1]);
    });
    browser.on('exit', (code) => reject(new Error(`Firefox ended with ${code}: ${said}`)));
    browser.on('error', reject);
  });
}

export class Firefox {
  #number = 0;
  #waiting = new Map();

  static async launch() {
    const firefox = new Firefox();
    firefox.profile = mkdtempSync(join(tmpdir(), 'linkmargin-firefox-'));
    firefox.browser = spawn(PROGRAM, ['--headless', '--no-remote', '--profile', firefox.profile, '--remote-debugging-port', '0',
                                      '--width', '1280', '--height', '1000'], {stdio: ['ignore', 'ignore', 'pipe']});
    firefox.socket = new WebSocket(`${await listening(firefox.browser)}/session`, {perMessageDeflate: false});
    await new Promise((resolve, reject) => firefox.socket.on('open', resolve).on('error', reject));
    firefox.socket.on('message', (text) => firefox.#hear(JSON.parse(text)));
    await firefox.send('session.new', {capabilities: {}});
    return firefox;
  }

  send(method, params) {
    const id = ++this.#number;
    this.socket.send(JSON.stringify({id, method, params}));
    return new Promise((resolve, reject) => this.#waiting.set(id, {resolve, reject}));
  }

  #hear({id, type, result, error, message}) {
    const waiting = this.#waiting.get(id);
    if (!waiting) return;
    this.#waiting.delete(id);
    if (type === 'success') waiting.resolve(result);
    else waiting.reject(new Error(`${error}: ${message}`));
  }

  async open(address) {
    const {context} = await this.send('browsingContext.create', {type: 'tab'});
    await this.send('browsingContext.navigate', {context, url: address, wait: 'complete'});
    return new FirefoxPage(this, context);
  }

  async close() {
    this.browser.removeAllListeners('exit');
    const gone = new Promise((resolve) => this.browser.on('exit', resolve));
    await this.send('browser.close', {});
    await gone;
    rmSync(this.profile, {recursive: true, force: true});
  }
}

class FirefoxPage {
  constructor(firefox, context) { Object.assign(this, {firefox, context}); }

  /** What a function says in the page, given what can be written as JSON. */
  async evaluate(work, ...given) {
    const {type, result, exceptionDetails} = await this.firefox.send('script.evaluate', {
      expression: `(async () => JSON.stringify(await (${work})(...${JSON.stringify(given)})) ?? 'null')()`,
      target: {context: this.context}, awaitPromise: true,
    });
    if (type !== 'success') throw new Error(exceptionDetails.text);
    return JSON.parse(result.value);
  }

  async until(work, ...given) {
    for (let i = 0; i < 400; ++i) {
      if (await this.evaluate(work, ...given)) return;
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
    throw new Error(`never: ${work}`);
  }

  /** Pointer actions: ['move', x, y], ['down'], ['up']; a move takes `duration` ms. */
  pointer(actions, duration = 15) {
    const made = actions.map(([what, x, y]) => (what === 'move'
        ? {type: 'pointerMove', x: Math.round(x), y: Math.round(y), duration}
        : {type: what === 'down' ? 'pointerDown' : 'pointerUp', button: 0}));
    return this.firefox.send('input.performActions', {
      context: this.context, actions: [{type: 'pointer', id: 'mouse', parameters: {pointerType: 'mouse'}, actions: made}]});
  }

  /** Keys one after the other; U+E000 and on are those of WebDriver. */
  keys(text) {
    const actions = [...text].flatMap((value) => [{type: 'keyDown', value}, {type: 'keyUp', value}]);
    return this.firefox.send('input.performActions', {context: this.context, actions: [{type: 'key', id: 'keys', actions}]});
  }

  close() { return this.firefox.send('browsingContext.close', {context: this.context}); }
}
