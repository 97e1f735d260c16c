// The house: how it is built, how high its storeys are, how it was measured, and one more storey.
import {setCeiling, setConstruction} from './construction.mjs';
import {field, make} from './dom.mjs';
import * as drawing from './drawing.mjs';
import {applied, button, choice, note, size, text} from './fields.mjs';
import {measuresInside, setInside} from './inside.mjs';
import {choices, say, typed} from './words.mjs';
/* global CONSTRUCTIONS */

export class HouseForm {
  constructor(forms) { Object.assign(this, {forms, sketch: forms.sketch}); }

  fields() {
    const {forms, sketch} = this;
    forms.submits(async (values) => {
      const height = forms.numbers(values, 'new_height');
      if (!height) return;
      const name = drawing.freeName(values.name.trim(), sketch.storeyNames);
      await drawing.addStorey(sketch, name, height[0]);
      sketch.goTo(name);
      forms.choose('room');
    });
    const now = sketch.values?.construction ?? '';
    const known = [...(CONSTRUCTIONS[now] ? [] : [{value: now, text: now || say('no_construction')}]), ...choices('construction', Object.keys(CONSTRUCTIONS))];
    const ceiling = sketch.opened?.storeys?.[sketch.storeyPosition]?.height_m ?? '';
    const inside = applied(choice('measured', ['middle', 'inside'].map((value) => ({value, text: say(`measured_${value}`)})),
                                  measuresInside(sketch) ? 'inside' : 'middle'), (value) => setInside(sketch, value === 'inside'));
    return [
      field(say('construction'), applied(choice('construction', known, now), (value) => setConstruction(sketch, value))),
      note(forms.walls.usualText()),
      ...forms.walls.usual(),
      field(say('measured'), inside),
      make('h3', {textContent: say('storey_title', {storey: sketch.storey})}),
      field(say('clear_height'), applied(size('height', ceiling), (value) => {
        const height = typed(value);
        if (height >= 0.5 && height <= 60) setCeiling(sketch, height);
        else sketch.tell(say('no_ceiling', {text: value}));
      })),
      make('h3', {textContent: say('one_more')}),
      field(say('name'), text('name', '', {required: true, maxLength: 60, placeholder: say('storey_example')})),
      field(say('clear_height'), size('new_height', '2.4')),
      button(say('add_storey')),
    ];
  }
}
