// What the page says, from the section `sketch` of data/languages, which the build puts here.
/* global WORDS */

export const languages = Object.entries(WORDS).map(([tag, {name}]) => ({tag, name}));

let words = WORDS.en;

export function speak(tag) {
  words = WORDS[tag] ?? WORDS.en;
  return WORDS[tag] ? tag : 'en';
}

/** A text by its key, the places in braces filled in. */
export function say(key, places = {}) {
  const text = words.texts[key];
  if (text === undefined) throw new Error(`no text '${key}'`);
  return text.replace(/\{([a-z_]+)\}/g, (_, name) => places[name]);
}

/** What a name of a table is called; one of the person's own as it is. @param table  `kind` of openings, `profile`, `construction`, `material` */
export function nameOf(table, name) {
  const names = table === 'material' ? words.materials : words.texts;
  return names[table === 'material' ? name : `${table}_${name.replace(/[ -]/g, '_')}`] ?? name;
}

/** Names of a table to choose from, by the alphabet of the language. */
export const choices = (table, names) => names.map((value) => ({value, text: nameOf(table, value)}))
                                              .sort((one, other) => one.text.localeCompare(other.text));

/** A number as short as it is, as the language writes it. */
export const shown = (value) => String(value).replace('.', words.decimal_mark);

/** A number as the language writes it. */
export const figure = (value, decimals = 0) => Number(value).toFixed(decimals).replace('.', words.decimal_mark);

export const percent = (value) => `${figure(value)} %`;

/** A reading in whole percent, rounded, but never over to the other side of what is weak (lib/linkmargin/report/document/rounding). */
export function wholePercent(value, threshold) {
  const nearest = Math.round(value);
  return value < threshold && nearest >= threshold ? Math.ceil(threshold) - 1 : nearest;
}

const SURE_PERCENT = 90;

/** A chance as people say it, by the same rule. */
export function chance(share) {
  if (share > 0.99) return '>99 %';
  return share < 0.01 ? '<1 %' : `${Math.min(99, Math.max(1, wholePercent(100 * share, SURE_PERCENT)))} %`;
}

/** A number as people type it, with a point or a comma; NaN where it is none. */
export const typed = (text) => (/^\s*[-+]?\d*[.,]?\d+\s*$/.test(text) ? Number(text.replace(',', '.')) : NaN);
