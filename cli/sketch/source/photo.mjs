// A photograph or scan under the plan, scaled by two points and the length between them. It stays in the browser: a site file
// holds no picture.
import {field, make} from './dom.mjs';
import {round} from './geometry.mjs';
import {say, shown, typed} from './words.mjs';

export class Photo {
  #picture = null;
  #points = null;  // the two points, while they are pointed at
  #anew = () => {};

  constructor(view) { this.view = view; }

  fields(anew) {
    this.#anew = anew;
    const file = make('input', {type: 'file', accept: 'image/*', onchange: ({target}) => target.files[0] && this.#open(target.files[0])});
    const parts = [field(say('photo_file'), file)];
    if (!this.#picture) return parts;
    const range = (key, min, max, step) => make('input', {
      type: 'range', min, max, step, value: this.#picture[key],
      oninput: ({target}) => {
        this.#picture[key] = Number(target.value);
        this.view.under(this.#picture);
      },
    });
    const length = make('input', {name: 'length', inputMode: 'decimal', size: 6});
    return [
      ...parts,
      field(say('photo_length'), length),
      make('button', {type: 'button', textContent: say('photo_scale'), onclick: () => this.#scale(typed(length.value))}),
      field(say('photo_turn'), range('degrees', -180, 180, 0.5)),
      field(say('photo_fade'), range('opacity', 0.1, 1, 0.05)),
      field(say('x'), this.#number('at', 0)), field(say('y'), this.#number('at', 1)),
      make('button', {type: 'button', textContent: say('photo_remove'), onclick: () => this.#show(null)}),
    ];
  }

  #number(key, i) {
    return make('input', {
      inputMode: 'decimal', size: 6, value: shown(round(this.#picture[key][i])),
      onchange: ({target}) => {
        const value = typed(target.value);
        if (Number.isNaN(value)) return;
        this.#picture[key][i] = value;
        this.view.under(this.#picture);
      },
    });
  }

  async #open(file) {
    const address = await new Promise((resolve) => {
      const reader = new FileReader();
      reader.onload = () => resolve(reader.result);
      reader.readAsDataURL(file);
    });
    const image = new Image();
    image.src = address;
    try {
      await image.decode();
    } catch {
      return this.tell?.(say('photo_unreadable'));
    }
    const width = 12;
    this.#show({address, at: [0, 0], width, height: width * image.naturalHeight / image.naturalWidth, degrees: 0, opacity: 0.5});
  }

  #show(picture) {
    this.#picture = picture;
    this.view.under(picture);
    this.#anew();
  }

  #scale(length_m) {
    if (!(length_m > 0)) return this.tell?.(say('photo_needs_length'));
    this.#points = {length_m, found: []};
    this.tell?.(say('photo_first'));
  }

  /** Whether a click is one of the two points. */
  takes(at) {
    if (!this.#points) return false;
    const {length_m, found} = this.#points;
    found.push(at);
    if (found.length === 1) {
      this.tell?.(say('photo_second'));
      return true;
    }
    this.#points = null;
    const [from, to] = found;
    const factor = length_m / (Math.hypot(to[0] - from[0], to[1] - from[1]) || length_m);
    const picture = this.#picture;
    // The middle stays, so that a turned picture grows about it.
    picture.at = [picture.at[0] + picture.width * (1 - factor) / 2, picture.at[1] + picture.height * (1 - factor) / 2];
    picture.width *= factor;
    picture.height *= factor;
    this.#show(picture);
    this.tell?.(say('photo_scaled'));
    return true;
  }
}
