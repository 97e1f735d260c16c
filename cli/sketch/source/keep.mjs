// What is opened and kept: files, the browser's own store, pictures.
import {byId, hand, make} from './dom.mjs';
import {emptySite} from './drawing.mjs';
import {say} from './words.mjs';

const STORE = 'linkmargin-sketch';
const MOST_BYTES = 2 * 1024 * 1024;

/** What was drawn here last; null where the browser keeps nothing. */
export function kept() {
  try {
    return JSON.parse(localStorage.getItem(STORE));
  } catch {
    return null;
  }
}

export function keep(sketch) {
  try {
    localStorage.setItem(STORE, JSON.stringify(
        {text: sketch.text, readings: sketch.readings.entries(), language: sketch.language, doors: sketch.doors}));
  } catch {
    // a browser that keeps nothing still draws
  }
}

export const fileName = (sketch, ending) => {
  const name = (sketch.values?.site ?? '').toString().toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '-').replace(/^-+|-+$/g, '');
  return `${name || 'site'}.${ending}`;
};

/** The plan as a picture that stands alone. */
function pictureOf(view) {
  const copy = view.svg.cloneNode(true);
  const style = document.createElementNS('http://www.w3.org/2000/svg', 'style');
  const colours = getComputedStyle(view.svg);
  const rules = [...document.styleSheets].flatMap((sheet) => [...sheet.cssRules]).filter(({selectorText}) => selectorText?.includes('#plan'));
  style.textContent = rules.map(({cssText}) => cssText.replace(/#plan /g, '').replace(/var\((--[a-z]+)\)/g, (_, name) => colours.getPropertyValue(name)))
                          .filter((rule) => !rule.startsWith('#plan')).join('\n');
  copy.prepend(style);
  const box = view.svg.getBoundingClientRect();
  copy.setAttribute('width', box.width);
  copy.setAttribute('height', box.height);
  copy.setAttribute('font-family', 'DejaVu Sans, Verdana, sans-serif');
  return new XMLSerializer().serializeToString(copy);
}

export function listen(sketch, view, fit) {
  const confirmed = () => !sketch.canUndo || confirm(say('lose'));
  byId('new').addEventListener('click', async () => {
    if (!confirmed()) return;
    sketch.readings.clear();
    await sketch.show(emptySite(say('first_name'), say('first_storey')), {anew: true});
  });
  byId('open').addEventListener('change', async ({target}) => {
    const [file] = target.files;
    if (!file) return;
    if (file.size > MOST_BYTES) sketch.tell(say('too_large'));
    else if (confirmed()) {
      sketch.readings.clear();
      await sketch.show(await file.text(), {anew: true});
      fit();
    }
    target.value = '';
  });
  byId('save').addEventListener('click', () => hand(fileName(sketch, 'yaml'), sketch.text, 'application/yaml'));
  byId('save-svg').addEventListener('click', () => hand(fileName(sketch, 'svg'), pictureOf(view), 'image/svg+xml'));
  byId('save-png').addEventListener('click', async () => {
    const image = new Image();
    image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(pictureOf(view))}`;
    await image.decode();
    const canvas = make('canvas', {width: 2 * image.width, height: 2 * image.height});
    const pen = canvas.getContext('2d');
    pen.fillStyle = '#ffffff';
    pen.fillRect(0, 0, canvas.width, canvas.height);
    pen.drawImage(image, 0, 0, canvas.width, canvas.height);
    canvas.toBlob((picture) => picture && hand(fileName(sketch, 'png'), picture, 'image/png'));
  });
  byId('print').addEventListener('click', () => print());
}
