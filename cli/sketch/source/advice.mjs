// What the program advises, in words of the page: what to do here instead of options and keys of the site file.
import {say} from './words.mjs';
/* global ADVICE */

const escaped = (text) => text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');

/** A sentence with places in braces, as a pattern. */
const pattern = (text) => new RegExp(text.trim().split(/\{([a-z_]+)\}/).map((part, i) => (i % 2 ? `(?<${part}>.+?)` : escaped(part))).join(''), 'g');

/** @param language  of the text */
export function advised(text, language) {
  return ADVICE[language].reduce((made, [name, sentence]) => made.replace(
      pattern(sentence), (...found) => say(`instead_${name}`, typeof found.at(-1) === 'object' ? found.at(-1) : {})), text);
}
