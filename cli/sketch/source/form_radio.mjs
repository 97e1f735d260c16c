// Hubs, repeaters and devices: put in, and changed.
import {byId, field, make} from './dom.mjs';
import * as drawing from './drawing.mjs';
import {applied, button, choice, size, text} from './fields.mjs';
import {isInside, round} from './geometry.mjs';
import {openingNames} from './openings.mjs';
import {radioPath} from './sketch.mjs';
import {choices, figure, nameOf, say, shown, typed} from './words.mjs';

/** Places in a room, as site files say them. */
const SPOTS = ['corner top left', 'corner top right', 'corner bottom left', 'corner bottom right', 'left wall', 'right wall', 'top wall', 'bottom wall'];

export class RadioForm {
  constructor(forms) { Object.assign(this, {forms, sketch: forms.sketch}); }

  fields() {
    const {forms, sketch} = this;
    const profiles = (sketch.opened?.profiles ?? []).map(({name}) => name);
    const places = [
      ...drawing.roomNames(sketch).map((name) => ({value: `in ${name}`, text: say('in', {room: name})})),
      ...openingNames(sketch).map((name) => ({value: `on ${name}`, text: say('on', {opening: name})})),
    ];
    forms.submits((values) => this.add(values, null));
    const profile = choice('profile', choices('profile', profiles), this.lastProfile ?? 'hub');
    const spots = choice('spot', [{value: '', text: say('spot_ceiling')}, ...SPOTS.map((value) => ({value, text: say(`spot_${value.replaceAll(' ', '_')}`)}))]);
    const usual = () => {
      const known = sketch.opened?.profiles.find(({name}) => name === profile.value);
      spots.value = known?.below_ceiling_m === undefined ? SPOTS[0] : '';
    };
    profile.addEventListener('change', usual);
    usual();
    const place = choice('place', places);
    forms.shows(() => { spots.disabled = place.value.startsWith('on '); });  // a door has no corners
    return [
      field(say('profile'), profile),
      field(say('place'), place),
      field(say('spot'), spots),
      field(say('height_if'), size('height')),
      field(say('name_if'), text('name', '', {maxLength: 60})),
      button(say('add_radio')),
    ];
  }

  /** A device on a door or window. */
  addOn(opening) { return this.add({...this.forms.values(), place: `on ${opening}`}, null); }

  /** @param at  on the plan; null: as the form says */
  async add(values, at) {
    const {forms, sketch} = this;
    const {profile} = values;
    this.lastProfile = profile;
    const kind = profile === 'hub' || profile === 'repeater' ? profile : 'device';
    const [, how, where] = /^(in|on) (.*)$/s.exec(values.place ?? '') ?? [];
    const room = at ? sketch.here.rooms.find(({corners}) => isInside(corners, at))?.name : where;
    if (!at && !where) return sketch.tell(say('no_rooms'));
    const known = sketch.opened.profiles.find((one) => one.name === profile);
    const storey = sketch.opened.storeys[sketch.storeyPosition];
    let height = values.height.trim() === '' ? null : forms.numbers(values, 'height')?.[0];
    if (height === undefined) return;
    const value = {profile};
    if (at) {
      height ??= known.height_m ?? (known.below_ceiling_m !== undefined ? storey.height_m - known.below_ceiling_m : 1.5);
      Object.assign(value, {storey: storey.name, at_m: at, height_m: round(height)});
    } else {
      value[how] = where;
      if (how === 'in' && values.spot) value.at = values.spot;
      if (height !== null) value.height_m = height;
    }
    const wanted = values.name.trim() || (kind === 'device' ? `${room ?? ''} ${nameOf('profile', profile)}`.trim() : nameOf('profile', kind));
    const name = drawing.freeName(wanted, drawing.radioNames(sketch));
    await drawing.addRadio(sketch, kind, name, value);
    sketch.select({kind, name});
    forms.show();
  }

  /** While devices are put in: the heights of all on the storey, each in a field of its own. */
  heights(isShown) {
    const place = byId('heights'), {radios} = this.sketch.here;
    const focused = place.contains(document.activeElement) ? document.activeElement.dataset.radio : null;
    if (!isShown || radios.length === 0) return place.replaceChildren();
    place.replaceChildren(make('h3', {textContent: say('heights')}), ...radios.map(({kind, name, height}) => field(name, make('input', {
      inputMode: 'decimal', size: 6, value: shown(height), 'data-radio': `${kind}/${name}`,
      onchange: ({target}) => {
        const value = typed(target.value);
        if (Number.isNaN(value)) this.sketch.tell(say('no_number', {text: target.value}));
        else this.sketch.edit({set: {[`${radioPath(kind, name)}/height_m`]: value}});
      },
    }))));
    if (focused) place.querySelector(`input[data-radio="${CSS.escape(focused)}"]`)?.focus();
  }

  change({kind, name}) {
    const {forms, sketch} = this;
    const radio = sketch.radio(kind, name);
    if (!radio) return [];
    forms.submits((values) => {
      const numbers = forms.numbers(values, 'x', 'y', 'height');
      if (!numbers) return;
      const [x, y, height] = numbers, set = {};
      const [before_x, before_y] = radio.at.map((value) => round(value));
      if (x !== before_x || y !== before_y) set[`${radioPath(kind, name)}/at_m`] = [x, y];
      if (height !== radio.height) set[`${radioPath(kind, name)}/height_m`] = height;
      if (Object.keys(set).length > 0) sketch.edit({set});
    });
    return [
      make('h3', {textContent: name}),
      field(say('x'), size('x', String(round(radio.at[0])))), field(say('y'), size('y', String(round(radio.at[1])))),
      field(say('height'), size('height', String(radio.height))), button(say('change')), field(say('may_move'), this.#mayMove({kind, name})),
      field(say('metal_behind'), this.#metal({kind, name})),
    ];
  }

  #metal({kind, name}) {
    return applied(size('metal', drawing.metalOf(this.sketch, kind, name)), (value) => {
      const gap = value.trim() === '' ? null : typed(value);
      if (gap === null || gap > 0) drawing.setMetal(this.sketch, kind, name, gap);
      else this.sketch.tell(say('no_number', {text: value}));
    });
  }

  /** How far it may be moved, as the file says it, in words. */
  #saidText({radius_m, within, along_m}) {
    if (radius_m !== undefined) return say('may_radius', {radius: figure(radius_m, 2)});
    if (within !== undefined) return say('may_within', {room: within});
    return along_m ? say('may_along') : say('may_drawn');
  }

  #mayMove({kind, name}) {
    const {forms, sketch} = this;
    const said = drawing.mobilityOf(sketch, kind, name);
    const rooms = drawing.roomNames(sketch).map((room) => ({value: `in ${room}`, text: say('may_within', {room})}));
    const reaches = [0.15, 0.5, 1].map((radius) => ({value: String(radius), text: say('may_radius', {radius: figure(radius, 2)})}));
    const now = said?.within !== undefined ? `in ${said.within}` : said?.radius_m !== undefined ? String(said.radius_m) : said ? 'file' : '';
    const known = [{value: '', text: kind === 'hub' ? say('may_hub') : say('may_not')}, ...reaches, ...rooms, {value: 'draw', text: say('may_draw')}];
    if (!known.some(({value}) => value === now)) known.push({value: now, text: this.#saidText(said)});
    return applied(choice('may_move', known, now), (value) => {
      if (value === 'draw') {
        forms.reachOf = {kind, name};
        return sketch.tell(say('draw_reach'));
      }
      const reach = value === '' ? null : value.startsWith('in ') ? {within: value.slice(3)} : {radius_m: Number(value)};
      drawing.setMobility(sketch, kind, name, reach);
    });
  }
}
