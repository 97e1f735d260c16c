// Obstacles and areas for remotes: put in, and changed as single walls are.
import {field, make} from './dom.mjs';
import * as drawing from './drawing.mjs';
import {materialChoices} from './construction.mjs';
import {button, choice, size, text} from './fields.mjs';
import {rectangle} from './geometry.mjs';
import {choices, nameOf, say} from './words.mjs';
/* global MATERIALS */

export class ShapeForms {
  constructor(forms) { Object.assign(this, {forms, sketch: forms.sketch}); }

  area() {
    const {forms, sketch} = this;
    const remotes = (sketch.opened?.profiles ?? []).filter((one) => one.transmits && one.class === 'fobs').map(({name}) => name);
    const rooms = drawing.roomNames(sketch).map((name) => ({value: name, text: say('in', {room: name})}));
    forms.submits((values) => {
      if (values.room) return this.addArea(values, null);
      const rect = forms.numbers(values, 'x', 'y', 'width', 'depth');
      if (rect) this.addArea(values, rect);
    });
    const room = choice('room', [{value: '', text: say('at_corner')}, ...rooms], '');
    const places = [size('x', '0'), size('y', '0'), size('width', '4'), size('depth', '3')];
    forms.shows(() => { for (const one of places) one.disabled = room.value !== ''; });
    return [
      field(say('name_if'), text('name', '', {maxLength: 60, placeholder: say('area_example')})),
      field(say('profile'), choice('profile', choices('profile', remotes), 'fob')),
      field(say('share'), size('share', '95')),
      field(say('place'), room),
      ...['x', 'y', 'width', 'depth'].map((key, i) => field(say(key), places[i])),
      button(say('add_area')),
    ];
  }

  /** @param rect  that was drawn or typed; null: the room that the form says */
  async addArea(values, rect) {
    const {forms, sketch} = this;
    const share = forms.numbers(values, 'share');
    if (!share) return;
    if (rect && !(rect[2] > 0 && rect[3] > 0)) return sketch.tell(say('no_size'));
    const name = drawing.freeName(values.name.trim() || say('area'), drawing.areaNames(sketch));
    await drawing.addArea(sketch, name, values.profile, {
      ...(rect ? {storey: sketch.storey, rect_m: rect} : {in: values.room}), ...(share[0] === 95 ? {} : {share_percent: share[0]})});
    if (rect) forms.reveal(rectangle(rect));
    sketch.select({kind: 'area', name});
    forms.show();
  }

  obstacle() {
    this.forms.submits((values) => this.addObstacle(values));
    return [
      field(say('name_if'), text('name', '', {maxLength: 60, placeholder: say('obstacle_example')})),
      field(say('made_of'), choice('material', materialChoices(this.sketch, MATERIALS.obstacle))),
      field(say('obstacle_height'), size('height', '1.8')),
      field(say('x'), size('x', '0')), field(say('y'), size('y', '0')),
      field(say('width'), size('width', '1')), field(say('depth'), size('depth', '0.5')),
      button(say('add_obstacle')),
    ];
  }

  /** @param rect  that was drawn; null: as the form says */
  async addObstacle(values, rect = null) {
    const {forms, sketch} = this;
    const height = forms.numbers(values, 'height');
    rect ??= forms.numbers(values, 'x', 'y', 'width', 'depth');
    if (!height || !rect) return;
    if (!(rect[2] > 0 && rect[3] > 0)) return sketch.tell(say('no_size'));
    const name = drawing.freeName(values.name.trim() || nameOf('material', values.material), drawing.obstacleNames(sketch));
    await drawing.addObstacle(sketch, name, rectangle(rect), height[0], values.material);
    sketch.select({kind: 'obstacle', name});
    forms.show();
  }

  change(selected) {
    const {forms, sketch} = this;
    const before = drawing.cornersOf(sketch, selected);
    if (!before) return [];
    forms.submits((values) => {
      const corners = forms.typedPlace(values);
      if (corners) drawing.reshape(sketch, selected, corners);
    });
    return [make('h3', {textContent: selected.name}), ...forms.placeFields(before), button(say('change'))];
  }
}
