// Where the words beside symbols stand: at one of four sides where nothing is; else without the name; else not at all (the list
// has them, and so has the symbol's tooltip). All in pixels of the screen.

const SIDES = ['right', 'left', 'above', 'below'];
const LETTER = 7.1, LINE = 13, GAP = 10;

/** Left, top, right, bottom of two lines beside a symbol. */
function boxAt([x, y], side, width, lines) {
  const height = lines * LINE;
  switch (side) {
    case 'right': return [x + GAP, y - height / 2, x + GAP + width, y + height / 2];
    case 'left': return [x - GAP - width, y - height / 2, x - GAP, y + height / 2];
    case 'above': return [x - width / 2, y - GAP - height, x + width / 2, y - GAP];
    default: return [x - width / 2, y + GAP, x + width / 2, y + GAP + height];
  }
}

const meet = (one, other) => one[0] < other[2] && other[0] < one[2] && one[1] < other[3] && other[1] < one[3];

/**
 * @param things  [{at: [x, y], lines: [text, ...], side}] in the order of their importance; the last line stays longest; `side`, where
 *                given, is tried first: words that move are harder to read
 * @returns [{side, from}] or null, each: `from` is the first line that is shown
 */
export function arranged(things, [width, height]) {
  const taken = things.map(({at: [x, y]}) => [x - 7, y - 7, x + 7, y + 7]);
  return things.map(({at, lines, side: before}, i) => {
    for (let from = 0; from < lines.length; ++from) {
      const shown = lines.slice(from);
      const wide = LETTER * Math.max(...shown.map((line) => line.length));
      for (const side of before ? [before, ...SIDES] : SIDES) {
        const box = boxAt(at, side, wide, shown.length);
        if (box[0] < 0 || box[1] < 0 || box[2] > width || box[3] > height) continue;
        if (taken.some((other, j) => j !== i && meet(box, other))) continue;
        taken.push(box);
        return {side, from};
      }
    }
    return null;
  });
}

/** How the first of the shown lines stands: anchor, x, y of its base. */
export function standing({side, from}, lines) {
  const shown = lines - from;
  const middle = -shown * LINE / 2 + 10;
  switch (side) {
    case 'right': return {anchor: 'start', x: GAP, y: middle};
    case 'left': return {anchor: 'end', x: -GAP, y: middle};
    case 'above': return {anchor: 'middle', x: 0, y: -GAP - shown * LINE + 10};
    default: return {anchor: 'middle', x: 0, y: GAP + 10};
  }
}

export const lineHeight = LINE;
