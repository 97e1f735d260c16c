// What SVG is made of here: metres with y downwards.
import {boxOf} from './geometry.mjs';

const SVG = 'http://www.w3.org/2000/svg';

export function element(name, attributes = {}, ...children) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...children);
  return made;
}

export const line = (points) => points.map(([x, y], i) => `${i ? 'L' : 'M'}${x} ${-y}`).join(' ');
export const path = (corners) => `${line(corners)} Z`;
export const ends = ([x1, y1], [x2, y2]) => ({x1, y1: -y1, x2, y2: -y2});
export const middle = (points) => {
  const [left, bottom, right, top] = boxOf(points);
  return [(left + right) / 2, (bottom + top) / 2];
};
