import {leafLooks} from './construction.mjs';
import {byId, make, options} from './dom.mjs';
import * as drawing from './drawing.mjs';
import {Forms} from './forms.mjs';
import {keep, kept, listen} from './keep.mjs';
import {MapView} from './map.mjs';
import {Photo} from './photo.mjs';
import {PlanView} from './plan.mjs';
import {Pointer} from './pointer.mjs';
import {Predictor} from './predictor.mjs';
import {Report} from './report.mjs';
import {Results} from './results.mjs';
import {Search} from './search.mjs';
import {Sketch} from './sketch.mjs';
import {languages, percent, say, speak} from './words.mjs';

async function compiledModule(id) {
  const packed = Uint8Array.from(atob(byId(id).textContent), (letter) => letter.charCodeAt(0));
  const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream('gzip'));
  return WebAssembly.compile(await new Response(stream).arrayBuffer());
}

const workerAddress = URL.createObjectURL(new Blob([byId('worker').textContent], {type: 'text/javascript'}));
const makeWorker = () => new Worker(workerAddress);

const module = await compiledModule('module');
let late = null;
const predictor = () => new Predictor(makeWorker, module, () => (late ??= compiledModule('late-module')));
const sketch = new Sketch(predictor(), predictor());
const view = new PlanView(byId('plan'));
const photo = new Photo(view);
photo.tell = (text) => sketch.tell(text);
const forms = new Forms(sketch, photo);
const results = new Results(sketch, view, async (thing) => {
  const storey = thing.storey ?? sketch.radio(thing.kind, thing.name)?.storey;
  if (storey && storey !== sketch.storey) sketch.goTo(storey);
  sketch.select({kind: thing.kind, name: thing.name});
  forms.choose('change');
});
const search = new Search(sketch, results);
const map = new MapView(sketch, view, results);
forms.mark = (rooms, piece) => view.mark(rooms, piece);
new Pointer(sketch, view, forms);
forms.reveal = (corners) => {
  if (!view.shows(corners)) fit();
};
listen(sketch, view, () => fit());
const report = new Report(sketch, predictor());

function words() {
  document.documentElement.lang = sketch.language;
  for (const one of document.querySelectorAll('[data-say]')) one.textContent = say(one.dataset.say);
  view.svg.setAttribute('aria-label', say('plan_keys'));
  byId('tasks').setAttribute('aria-label', say('task'));
  forms.showTasks();
  report.show();
}

function storeys() {
  byId('storeys').replaceChildren(...sketch.storeyNames.map((name) => make('button', {
    textContent: name, 'aria-pressed': String(name === sketch.storey), onclick: () => {
      sketch.select(null);
      sketch.goTo(name);
      fit();
    }})));
}

/** How an area fares, beside its name. */
function areaText(name) {
  const found = sketch.checked?.areas.find(({area}) => area === name);
  return found ? say('area_share', {area: name, share: percent(Math.floor(found.share))}) : name;
}

const fit = () => view.fit(sketch.here, drawing.areas(sketch).flatMap(({corners}) => corners));

function draw() {
  const {selected} = sketch;
  view.draw(sketch.here, sketch.below, {
    obstacles: drawing.obstacles(sketch), walls: drawing.walls(sketch),
    areas: drawing.areas(sketch).map(({name, corners}) => ({name, corners, text: areaText(name)})),
    pieces: sketch.pieces, leaf: (name) => leafLooks(sketch, name), reach: drawing.reachOf(sketch),
    handles: (selected && drawing.cornersOf(sketch, selected)) ?? [],
  }, selected);
}

/** Figures that arrive while something is dragged are drawn once a frame, the latest alone. */
let isDrawn = true;
function figures() {
  if (!isDrawn) return;
  isDrawn = false;
  requestAnimationFrame(() => {
    isDrawn = true;
    results.figures();
  });
}

sketch.addEventListener('site', () => {
  const name = sketch.values?.site ?? sketch.opened?.site ?? '';
  if (document.activeElement !== byId('site-name')) byId('site-name').value = name;
  document.title = name ? `${name} - linkmargin` : 'linkmargin';
  byId('undo').disabled = !sketch.canUndo;
  byId('redo').disabled = !sketch.canRedo;
  storeys();
  draw();
  results.all();
  forms.show(true);
  results.why();
  search.show();
  map.show();
  keep(sketch);
});
sketch.addEventListener('figures', figures);
sketch.addEventListener('selected', () => {
  draw();
  results.figures();
  if (forms.task === 'change') forms.show();
  results.why();
});
sketch.addEventListener('tip', ({detail}) => { byId('tip').textContent = detail; });

byId('site-name').addEventListener('keydown', (event) => {
  if (event.key !== 'Enter') return;
  event.preventDefault();
  forms.focusName();
});
byId('site-name').addEventListener('change', ({target}) => drawing.setName(sketch, target.value.trim()));
byId('undo').addEventListener('click', () => sketch.undo());
byId('redo').addEventListener('click', () => sketch.redo());
byId('closer').addEventListener('click', () => view.zoom(1 / 1.25));
byId('further').addEventListener('click', () => view.zoom(1.25));
byId('fit').addEventListener('click', fit);
byId('doors').addEventListener('change', ({target}) => {
  sketch.doors = target.value;
  sketch.show(sketch.text);
});
byId('language').append(...options(languages.map(({tag, name}) => ({value: tag, text: name})), ''));
byId('language').addEventListener('change', ({target}) => {
  sketch.language = speak(target.value);
  words();
  sketch.show(sketch.text);
});
document.addEventListener('keydown', (event) => {
  const typing = event.target.closest?.('input:not([type=radio], [type=checkbox], [type=range]), textarea');
  if (!(event.ctrlKey || event.metaKey) || typing) return;
  const key = event.key.toLowerCase();
  if (key === 'z' || key === 'y') event.preventDefault();
  if (key === 'z' && !event.shiftKey) sketch.undo();
  else if (key === 'y' || key === 'z') sketch.redo();
});

// The site that came with the page; else what was drawn here last; else nothing yet.
const given = byId('given').content.textContent;
const last = given ? null : kept();
sketch.language = speak(last?.language ?? navigator.language?.slice(0, 2));
byId('language').value = sketch.language;
words();
if (last?.readings) sketch.readings.restore(last.readings);
if (last?.doors === 'open') byId('doors').value = sketch.doors = 'open';
await sketch.show(given || last?.text || drawing.emptySite(say('first_name'), say('first_storey')), {anew: true});
fit();
if (sketch.here.rooms.length === 0) {
  forms.choose('room');
  forms.focusName();
}
globalThis.linkmargin = {sketch, view};  // for tests and the curious
document.documentElement.dataset.ready = '';
