// Where the words beside symbols stand: at one of eight sides where nothing is, name and reading or the reading alone; else not at all (the
// list has them, and so has the symbol's tooltip). Words that stand somewhere stay there. All in pixels of the symbols' own size.

const SIDES = ['right', 'left', 'above', 'below', 'above right', 'above left', 'below right', 'below left'];
const NAME_SIDES = ['on', 'above', 'below'];
const LINE = 14, GAP = 10, EDGE = 2;

/** About as wide as a typeface is, where none is measured; figures are bold. */
const aboutWide = (line) => line.length * (line.includes('%') ? 7.2 : 6.3);

/** Left, top, right, bottom of lines beside a symbol. */
function boxAt([x, y], side, lines, wide = aboutWide) {
  const width = Math.max(...lines.map(wide)), height = lines.length * LINE;
  const gap = side.includes(' ') ? 0.5 * GAP : GAP;
  const left = side.includes('right') ? x + gap : side.includes('left') ? x - gap - width : x - width / 2;
  const top = side.startsWith('above') ? y - gap - height : side.startsWith('below') ? y + gap : y - height / 2;
  return [left, top, left + width, top + height];
}

const meet = (one, other) => one[0] < other[2] && other[0] < one[2] && one[1] < other[3] && other[1] < one[3];
const symbolAt = ([x, y]) => [x - 7, y - 7, x + 7, y + 7];

/**
 * @param things  {at: [x, y], options: [[line, ...], ...]}: the first option that finds room is taken, and its words stand there as long as
 *                `stood`, {side, level} of before, is given; the `fuller` ones of a level replace them where they have room there; `isName` is of a
 *                room, which has no symbol; `isMoving`: others do not make room for it
 * @param avoid   boxes that are covered only where there is no other place: doors
 * @param wide    how wide a line is
 * @returns [{side, level, lines, isFull}] or null, each
 */
export function arranged(things, [width, height], avoid = [], wide = aboutWide) {
  const boxOf = (at, side, lines) => boxAt(at, side, lines, wide);
  const isOnSheet = (box) => box[0] >= 0 && box[1] >= 0 && box[2] <= width && box[3] <= height;
  const symbols = things.map(({at, isName, isMoving}) => (isName || isMoving ? null : symbolAt(at)));
  const boxes = things.map(() => null), found = things.map(() => null);
  const isFree = (box, i) => isOnSheet(box) && !symbols.some((one, j) => one && j !== i && meet(one, box)) &&
                             !boxes.some((one, j) => one && j !== i && meet(one, box));
  const take = (i, side, level) => {
    const lines = things[i].options[level];
    boxes[i] = boxOf(things[i].at, side, lines);
    found[i] = {side, level, lines};
  };
  things.forEach(({at, options, stood}, i) => {
    if (stood && options[stood.level] && isFree(boxOf(at, stood.side, options[stood.level]), i)) take(i, stood.side, stood.level);
  });
  const place = ({at, options, isName, stood}, i) => {
    const sides = isName ? NAME_SIDES : stood ? [stood.side, ...SIDES] : SIDES;
    for (const shunned of [avoid, []]) {
      for (const [level, lines] of options.entries()) {
        for (const side of sides) {
          const box = boxOf(at, side, lines);
          if (isFree(box, i) && !shunned.some((one) => meet(one, box))) return take(i, side, level);
        }
      }
    }
  };
  things.forEach((thing, i) => found[i] ?? place(thing, i));
  things.forEach(({at, fuller}, i) => {
    const lines = found[i] && fuller?.[found[i].level];
    if (!lines) return;
    const box = boxOf(at, found[i].side, lines);
    if (!isFree(box, i) || avoid.some((one) => meet(one, box) && !meet(one, boxes[i]))) return;
    boxes[i] = box;
    found[i] = {...found[i], lines, isFull: true};
  });
  return found;
}

/** How lines stand about a symbol: anchor, x, the base of each line, and the paper beneath: [x, y, width, height]. */
export function standing({side, lines}, wide = aboutWide) {
  const [left, top, right, bottom] = boxAt([0, 0], side, lines, wide);
  const anchor = side.includes('right') ? 'start' : side.includes('left') ? 'end' : 'middle';
  return {
    anchor, x: {start: left, end: right}[anchor] ?? 0, bases: lines.map((_, i) => top + i * LINE + 11),
    paper: [left - EDGE, top, right - left + 2 * EDGE, bottom - top],
  };
}
