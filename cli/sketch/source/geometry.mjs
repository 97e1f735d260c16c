// Places on a plan in metres: x to the right, y up. Rooms come as the corners of their polygons.

export const round = (value, step = 0.01) => Number((Math.round(value / step) * step).toFixed(4));

const CELL_M = 4;

/** Which edges may lie on each: those that share a cell of a grid with it, in their order. */
function neighbours(edges) {
  const cells = new Map();
  const keys = edges.map(({from, to}) => {
    const [left, bottom, right, top] = boxOf([from, to]).map((value, i) => Math.floor((value + (i < 2 ? -0.02 : 0.02)) / CELL_M));
    const own = [];
    for (let x = left; x <= right; ++x) for (let y = bottom; y <= top; ++y) own.push(`${x} ${y}`);
    return own;
  });
  keys.forEach((own, i) => own.forEach((key) => cells.set(key, [...(cells.get(key) ?? []), i])));
  return (i) => [...new Set(keys[i].flatMap((key) => cells.get(key)))].sort((one, other) => one - other);
}

/** The pieces of all walls: {a, b, from, to}; a and b are rooms, or b is 'outside'; from the left, else the lower end. */
export function wallPieces(rooms) {
  const pieces = [];
  const edges = rooms.flatMap(({name, corners}) => corners.map((from, i) => ({name, from, to: corners[(i + 1) % corners.length]})));
  const near = neighbours(edges);
  edges.forEach((edge, i) => {
    const length = Math.hypot(edge.to[0] - edge.from[0], edge.to[1] - edge.from[1]);
    if (length < 0.01) return;
    const along = [(edge.to[0] - edge.from[0]) / length, (edge.to[1] - edge.from[1]) / length];
    const place = (p) => (p[0] - edge.from[0]) * along[0] + (p[1] - edge.from[1]) * along[1];
    const off = (p) => Math.abs((p[0] - edge.from[0]) * along[1] - (p[1] - edge.from[1]) * along[0]);
    const at = (s) => [round(edge.from[0] + s * along[0], 0.0001), round(edge.from[1] + s * along[1], 0.0001)];
    const shared = [];
    near(i).forEach((j) => {
      const other = edges[j];
      if (other.name === edge.name || off(other.from) > 0.01 || off(other.to) > 0.01) return;
      const [low, high] = [place(other.from), place(other.to)].sort((p, q) => p - q);
      const begin = Math.max(0, low), end = Math.min(length, high);
      if (end - begin < 0.01) return;
      shared.push([begin, end]);
      if (j > i) pieces.push({a: edge.name, b: other.name, from: at(begin), to: at(end)});
    });
    shared.sort((p, q) => p[0] - q[0]);
    let done = 0;
    for (const [begin, end] of [...shared, [length, length]]) {
      if (begin - done > 0.01) pieces.push({a: edge.name, b: 'outside', from: at(done), to: at(begin)});
      done = Math.max(done, end);
    }
  });
  return pieces.map((piece) => {
    const {from, to} = piece;
    return from[0] < to[0] || (from[0] === to[0] && from[1] < to[1]) ? piece : {...piece, from: to, to: from};
  });
}

/** The nearest place on a segment: {at, distance, share of the way}. */
function nearestOn({from, to}, p) {
  const dx = to[0] - from[0], dy = to[1] - from[1];
  const share = Math.min(1, Math.max(0, ((p[0] - from[0]) * dx + (p[1] - from[1]) * dy) / (dx * dx + dy * dy || 1)));
  const at = [from[0] + share * dx, from[1] + share * dy];
  return {at, share, distance: Math.hypot(p[0] - at[0], p[1] - at[1])};
}

export function nearestPiece(pieces, p) {
  let best = null;
  for (const piece of pieces) {
    const near = nearestOn(piece, p);
    if (!best || near.distance < best.distance) best = {...near, piece};
  }
  return best;
}

export const lengthOf = ({from, to}) => Math.hypot(to[0] - from[0], to[1] - from[1]);

/** The side of its room that a piece of wall is on. */
export function sideOf({a, from, to}, rooms) {
  const {corners} = rooms.find(({name}) => name === a);
  const middle = [0, 1].map((i) => corners.reduce((sum, corner) => sum + corner[i], 0) / corners.length);
  const dx = (from[0] + to[0]) / 2 - middle[0], dy = (from[1] + to[1]) / 2 - middle[1];
  if (Math.abs(from[0] - to[0]) < Math.abs(from[1] - to[1])) return dx < 0 ? 'left' : 'right';
  return dy < 0 ? 'bottom' : 'top';
}

/** The piece of wall that an opening is in, and how far from its left or lower end the opening's middle is; null: in none. */
export function alongPiece(pieces, {from, to}) {
  const middle = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
  const piece = pieces.find((one) => nearestOn(one, middle).distance < 0.01);
  if (!piece) return null;
  const {share} = nearestOn(piece, middle);
  return {piece, share, along: round(share * lengthOf(piece))};
}

/** The middle of an opening on a piece of wall, as near to a share of it as its width allows. @param step  from the end of the wall */
export function openingAt({from, to}, share, width_m, step = 0.01) {
  const length = lengthOf({from, to});
  const room = width_m / 2 / length;
  const wanted = round(share * length, step) / length;
  const kept = length <= width_m ? 0.5 : Math.min(1 - room, Math.max(room, wanted));
  const isAlong = (i) => Math.abs(to[i] - from[i]) > 0.001;
  return [0, 1].map((i) => round(from[i] + kept * (to[i] - from[i]), !isAlong(i) ? 0.001 : kept === wanted ? 0.01 : 0.0001));
}

/** A coordinate at an edge near by, else on the grid. */
export function snapped(value, edges, reach_m, grid_m = 0.05) {
  let best = round(value, grid_m), distance = reach_m;
  for (const edge of edges) {
    if (Math.abs(edge - value) < distance) [best, distance] = [edge, Math.abs(edge - value)];
  }
  return best;
}

export const edgesOf = (rooms, axis) => [...new Set(rooms.flatMap(({corners}) => corners.map((p) => p[axis])))];

export function isInside(corners, [x, y]) {
  let inside = false;
  for (let i = 0, j = corners.length - 1; i < corners.length; j = i++) {
    const [xi, yi] = corners[i], [xj, yj] = corners[j];
    if (yi > y !== yj > y && x < (xj - xi) * (y - yi) / (yj - yi) + xi) inside = !inside;
  }
  return inside;
}

export const rectangle = ([x, y, width, depth]) => [[x, y], [x + width, y], [x + width, y + depth], [x, y + depth]];

/** [x, y, width, depth] of corners that are those of an upright rectangle; else null. */
export function rectOf(corners) {
  if (corners.length !== 4) return null;
  const [left, bottom, right, top] = boxOf(corners);
  const upright = corners.every(([x, y], i) => {
    const [next_x, next_y] = corners[(i + 1) % 4];
    return (x === left || x === right) && (y === bottom || y === top) && (x === next_x) !== (y === next_y);
  });
  return upright ? [left, bottom, round(right - left, 0.0001), round(top - bottom, 0.0001)] : null;
}

export const moved = (points, dx, dy) => points.map(([x, y]) => [round(x + dx, 0.001), round(y + dy, 0.001)]);

/** The corners after one was dragged: a rectangle stays one, and its opposite corner stays. */
export function withCorner(corners, i, at) {
  if (!rectOf(corners)) return corners.map((corner, j) => (j === i ? at : corner));
  const [x, y] = corners[(i + 2) % 4];
  return rectangle([Math.min(x, at[0]), Math.min(y, at[1]), Math.abs(x - at[0]), Math.abs(y - at[1])].map((value) => round(value, 0.001)));
}

/** A place straight above, below or beside another where it nearly is. */
export function squared(from, at, reach) {
  const [dx, dy] = [Math.abs(at[0] - from[0]), Math.abs(at[1] - from[1])];
  if (Math.min(dx, dy) > Math.max(reach, 0.06 * Math.max(dx, dy))) return at;
  return dx < dy ? [from[0], at[1]] : [at[0], from[1]];
}

/** So far from a place in the direction of another. */
export function towards(from, at, length) {
  const distance = Math.hypot(at[0] - from[0], at[1] - from[1]);
  if (distance === 0) return [round(from[0] + length, 0.001), from[1]];
  return [0, 1].map((i) => round(from[i] + (at[i] - from[i]) * length / distance, 0.001));
}

/** Corners as people type them, "0 0; 4 0; 4 3.5"; null where a part is none. */
export function typedCorners(text) {
  const corners = text.split(';').map((part) => part.trim()).filter(Boolean).map((part) => part.split(/\s+/).map((one) => Number(one.replace(',', '.'))));
  return corners.every((corner) => corner.length === 2 && corner.every(Number.isFinite)) ? corners : null;
}

export const cornersText = (corners) => corners.map(([x, y]) => `${round(x, 0.001)} ${round(y, 0.001)}`).join('; ');

/** A rectangle beside a room: its lower left corner. */
export function beside(corners, side, width, depth) {
  const xs = corners.map((p) => p[0]), ys = corners.map((p) => p[1]);
  const left = Math.min(...xs), bottom = Math.min(...ys), right = Math.max(...xs), top = Math.max(...ys);
  switch (side) {
    case 'left': return [round(left - width, 0.0001), bottom];
    case 'right': return [right, bottom];
    case 'top': return [left, top];
    case 'bottom': return [left, round(bottom - depth, 0.0001)];
    default: return [left, bottom];
  }
}

/** Rooms, walls, openings and radios of a plan (GeoJSON of the library), by storey. */
export function planOf(geojson) {
  const storeys = new Map();
  for (const {geometry, properties} of geojson.features) {
    const {level, kind, name = ''} = properties;
    if (!storeys.has(level)) storeys.set(level, {rooms: [], walls: [], openings: [], radios: []});
    const storey = storeys.get(level);
    if (kind === 'room') storey.rooms.push({name, corners: geometry.coordinates[0].slice(0, -1)});
    else if (kind === 'wall') storey.walls.push({from: geometry.coordinates[0], to: geometry.coordinates[1], thickness: properties.thickness_m ?? 0.1});
    else if (geometry.type === 'LineString') storey.openings.push({name, kind, from: geometry.coordinates[0], to: geometry.coordinates[1]});
    else storey.radios.push({name, kind, at: geometry.coordinates, height: properties.height_above_floor_m});
  }
  for (const {walls, openings} of storeys.values()) {
    for (const one of openings) one.thickness = thicknessBeside(walls, one);
  }
  return storeys;
}

/**
 * Holes without a leaf, which the library's plan has as gaps alone.
 * @param said  openings of the storey as the file says them: {name, at_m, width_m}
 */
export function addHoles({rooms, walls, openings}, said) {
  const pieces = wallPieces(rooms);
  for (const {name, at_m, width_m} of said) {
    const near = openings.every((one) => one.name !== name) && Array.isArray(at_m) ? nearestPiece(pieces, at_m) : null;
    if (!near || near.distance > 0.15) continue;
    const {from, to} = near.piece, half = width_m / 2 / lengthOf(near.piece);
    const [begin, end] = [near.share - half, near.share + half].map((share) => [0, 1].map((i) => from[i] + share * (to[i] - from[i])));
    openings.push({name, kind: 'hole', from: begin, to: end, thickness: thicknessBeside(walls, {from: begin, to: end})});
  }
}

/** How thick the wall is that an opening is in: of a wall that ends where it begins, in its direction; else of the nearest to it. */
function thicknessBeside(walls, {from, to}) {
  const along = [to[0] - from[0], to[1] - from[1]];
  const isInLine = (wall) => Math.abs((wall.to[0] - wall.from[0]) * along[1] - (wall.to[1] - wall.from[1]) * along[0]) <
    0.01 * lengthOf(wall) * lengthOf({from, to});
  const far = (wall) => Math.min(...[from, to].map((end) => nearestOn(wall, end).distance));
  const beside = walls.filter(isInLine).map((wall) => [far(wall), wall]).sort((one, other) => one[0] - other[0])[0];
  return beside && beside[0] < 0.02 ? beside[1].thickness : 0.1;
}

export const boxOf = (points) => points.reduce(
    (box, [x, y]) => [Math.min(box[0], x), Math.min(box[1], y), Math.max(box[2], x), Math.max(box[3], y)],
    [Infinity, Infinity, -Infinity, -Infinity]);

const NEAR_M = 1e-6;

/**
 * The walls of a rectangle that are somewhere else after a change of its corners. Boxes are [left, bottom, right, top].
 * @returns for each {edge, across, to}: which of the box, which of a box beyond it, and where it is then; takes(box): whether that box
 *          lies beyond it and beside nothing else there; holds(point): whether the point is on it
 */
export function wallsMoved(before, after) {
  return [0, 1, 2, 3].filter((edge) => Math.abs(before[edge] - after[edge]) > NEAR_M).map((edge) => {
    const across = (edge + 2) % 4, along = 1 - edge % 2, at = before[edge];
    const isAlong = (low, high) => low > before[along] - NEAR_M && high < before[along + 2] + NEAR_M;
    return {
      edge, across, to: after[edge],
      takes: (box) => Math.abs(box[across] - at) < NEAR_M && isAlong(box[along], box[along + 2]),
      holds: (point) => Math.abs(point[edge % 2] - at) < NEAR_M && isAlong(point[along], point[along]),
    };
  });
}
