// Where the words beside symbols stand: at one of four sides where nothing is, all of them or fewer; else not at all (the list
// has them, and so has the symbol's tooltip). All in pixels of the symbols' own size.

const SIDES = ['right', 'left', 'above', 'below'];
const LINE = 14, GAP = 10, EDGE = 2;

/** As wide as a typeface is; figures are bold. */
const widthOf = (lines) => Math.max(...lines.map((line) => line.length * (line.includes('%') ? 7.2 : 6.3)));

/** Left, top, right, bottom of lines beside a symbol. */
function boxAt([x, y], side, lines) {
  const width = widthOf(lines), height = lines.length * LINE;
  switch (side) {
    case 'right': return [x + GAP, y - height / 2, x + GAP + width, y + height / 2];
    case 'left': return [x - GAP - width, y - height / 2, x - GAP, y + height / 2];
    case 'above': return [x - width / 2, y - GAP - height, x + width / 2, y - GAP];
    case 'below': return [x - width / 2, y + GAP, x + width / 2, y + GAP + height];
    default: return [x - width / 2, y - height / 2, x + width / 2, y + height / 2];
  }
}

const meet = (one, other) => one[0] < other[2] && other[0] < one[2] && one[1] < other[3] && other[1] < one[3];

/**
 * @param things  in the order of their importance: {at: [x, y], options: [[line, ...], ...]}, the first option that finds room is
 *                taken; `side`, where given, is tried first: words that move are harder to read; `isName` stands on its place or not
 *                at all
 * @returns [{side, lines}] or null, each
 */
export function arranged(things, [width, height]) {
  const taken = things.filter(({isName}) => !isName).map(({at: [x, y]}) => [x - 7, y - 7, x + 7, y + 7]);
  return things.map(({at, options, side: before, isName}, i) => {
    const sides = isName ? ['on'] : before ? [before, ...SIDES] : SIDES;
    for (const lines of options) {
      for (const side of sides) {
        const box = boxAt(at, side, lines);
        if (box[0] < 0 || box[1] < 0 || box[2] > width || box[3] > height) continue;
        if (taken.some((other, j) => (isName || j !== i) && meet(box, other))) continue;
        taken.push(box);
        return {side, lines};
      }
    }
    return null;
  });
}

/** How lines stand about a symbol: anchor, x, the base of each line, and the paper beneath: [x, y, width, height]. */
export function standing({side, lines}) {
  const [left, top, right, bottom] = boxAt([0, 0], side, lines);
  const anchor = {right: 'start', left: 'end'}[side] ?? 'middle';
  return {
    anchor, x: {right: left, left: right}[side] ?? 0, bases: lines.map((_, i) => top + i * LINE + 11),
    paper: [left - EDGE, top, right - left + 2 * EDGE, bottom - top],
  };
}
