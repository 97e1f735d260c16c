// Predictions beside the page, so that drawing never waits for them. Each message is a call of a function below, answered
// by its number; a trap ends the instance, which the page replaces (predictor.mjs).
import {Library} from './module.mjs';

let library;
let site = 0;

/** The figures as the page shows them. */
const shown = ({doors, weak_below_percent, links, areas}) => ({
  doors,
  weak_below_percent,
  devices: links.map((link) => ({
    device: link.device,
    hub: link.hub,
    via: link.via,
    reading: link.reading_percent,
    low: link.reading_low_percent,
    high: link.reading_high_percent,
    chance: link.pass_probability,
    outcome: link.outcome,
  })),
  areas: areas.map((area) => ({
    area: area.area, by: [...area.via, area.hub].join(', '), share: area.share_percent, wanted: area.wanted_percent, weak: area.weak,
  })),
});

const checked = (doors) => {
  const {status, answer} = library.figures(site, doors);
  return {status, answer: status === 'done' ? shown(answer) : answer};
};

const calls = {
  async start(module) {
    library = await Library.of(module);
    return {status: 'done'};
  },
  add(late) {
    library.add(late);
    return {status: 'done'};
  },
  open(text, language, readings) {
    if (site) library.close(site);
    const opened = library.open(text, language);
    site = opened.site;
    const said = {status: opened.status, answer: opened.answer};
    if (!site) return said;
    said.plan = library.plan(site).answer;
    if (readings && opened.status === 'done') said.read = library.read(site, readings);
    return said;
  },
  check: checked,
  editAndCheck(edits, doors) {
    const edited = library.edit(site, edits);
    return edited.status === 'done' ? checked(doors) : edited;
  },
  edit(edits) {
    const edited = library.edit(site, edits);
    return edited.status === 'done' ? library.text(site) : edited;
  },
  text: () => library.text(site),
  plan: () => library.plan(site),
  read: (csv) => library.read(site, csv),
  explain: (doors, device) => library.explain(site, doors, device),
  placeStep: (...given) => library.placeStep(site, ...given),
  report(doors, date) {
    let shown = 0;
    return library.report(site, doors, date, (share) => {
      const percent = Math.floor(100 * share);
      if (percent > shown) self.postMessage({told: shown = percent});
    });
  },
  map: (...given) => library.map(site, ...given),
  bytes: () => ({status: 'done', answer: library.bytes}),
  trap: () => { throw new WebAssembly.RuntimeError('asked for'); },
};

async function answer({number, name, given}) {
  try {
    self.postMessage({number, said: await calls[name](...given)});
  } catch (error) {
    self.postMessage({number, ended: String(error)});
  }
}

// One after the other: an instance that is still made is not asked.
let latest = Promise.resolve();
self.onmessage = ({data}) => { latest = latest.then(() => answer(data)); };
