// Fields of forms: what they look like, and when what was typed or chosen in them counts.
import {make, options} from './dom.mjs';
import {shown} from './words.mjs';

export const text = (name, value = '', more = {}) => make('input', {name, value, ...more});
export const size = (name, value = '', more = {}) => text(name, shown(value), {inputMode: 'decimal', size: 6, ...more});
export const choice = (name, items, chosen) => make('select', {name}, ...options(items, chosen));
export const button = (label, more = {}) => make('button', {textContent: label, ...more});
export const note = (textContent, more = {}) => make('p', {textContent, className: 'soft', ...more});

const TYPE_AHEAD_MS = 1000;  // so long browsers take letters for one word

/** Whether a list waits for its choice: letters were typed in it, and each of them shows another entry. */
export const isPending = (input) => input?.dataset?.pending !== undefined;

/**
 * A field that applies itself: by Enter and when it is left, a list also when an entry is taken by pointer. What is shown while letters
 * are typed in a closed list, or while arrow keys go through it, is no choice yet.
 */
export function applied(input, apply) {
  let before = input.value, latest = -Infinity;
  const isList = input.tagName === 'SELECT';
  const pend = (is) => {
    if (is) input.dataset.pending = '';
    else delete input.dataset.pending;
  };
  const settle = () => {
    if (!input.isConnected || input.form?.dataset.redrawn !== undefined) return;
    pend(false);
    if (input.value !== before) apply((before = input.value));
    else input.dispatchEvent(new Event('settled', {bubbles: true}));
  };
  input.dataset.applied = '';
  input.addEventListener('pointerdown', () => pend(false));
  input.addEventListener('keydown', (event) => {
    const {key, altKey, timeStamp} = event;
    if (key === 'Enter') {
      event.preventDefault();
      event.stopPropagation();
      return settle();
    }
    if (!isList) return;
    const opens = (key === ' ' && timeStamp - latest > TYPE_AHEAD_MS) || key === 'F4' || (altKey && key.startsWith('Arrow'));
    if (opens) pend(false);
    else if (key.length === 1 || /^(Arrow|Page|Home|End)/.test(key)) pend(true);
    if (key.length === 1) latest = timeStamp;
  });
  input.addEventListener('change', () => isPending(input) || settle());
  input.addEventListener('blur', settle);
  return input;
}

/**
 * Another content of a form, without taking the field that is being typed in away from the hands: its place, what is typed in it and
 * what is marked in it stay.
 * @param kept  names of fields whose value stays, with the value
 */
export function redraw(form, children, kept) {
  const active = document.activeElement?.form === form ? document.activeElement : null;
  const typing = active?.tagName === 'INPUT' && active.type === 'text' && {
    value: active.value === active.defaultValue ? null : active.value, marked: [active.selectionStart, active.selectionEnd], name: active.name,
  };
  form.dataset.redrawn = '';
  form.replaceChildren(...children);
  delete form.dataset.redrawn;
  for (const [name, value] of kept) {
    const input = form.elements.namedItem(name);
    if (!input || 'applied' in input.dataset || (input.tagName === 'SELECT' && ![...input.options].some((one) => one.value === value))) continue;
    input.value = value;
  }
  const now = active?.name ? form.elements.namedItem(active.name) : null;
  if (!now?.focus) return;
  if (typing && typing.value !== null && now.type === 'text') now.value = typing.value;
  now.focus();
  if (typing && now.type === 'text') now.setSelectionRange(...(typing.value === null ? [0, now.value.length] : typing.marked));
}
