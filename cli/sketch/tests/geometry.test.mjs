// Shapes and the places of words: what no browser is needed for.
import assert from 'node:assert/strict';
import {test} from 'node:test';
import {cornersText, moved, rectangle, rectOf, squared, towards, typedCorners, withCorner} from '../source/geometry.mjs';
import {arranged, standing} from '../source/labels.mjs';
import {random} from './support.mjs';

test('an upright rectangle is known whichever way its corners go, and nothing else is one', () => {
  const corners = rectangle([1, 2, 3.5, 4]);
  for (let i = 0; i < 4; ++i) {
    const turned = [...corners.slice(i), ...corners.slice(0, i)];
    assert.deepEqual(rectOf(turned), [1, 2, 3.5, 4]);
    assert.deepEqual(rectOf(turned.reverse()), [1, 2, 3.5, 4]);
  }
  const [a, b, c, d] = corners;
  for (const other of [[a, c, b, d], [a, b, c], [a, b, c, [1, 5]], [a, b, c, c], [...corners, [0, 0]]]) assert.equal(rectOf(other), null);
});

test('a dragged corner leaves the opposite one, and a rectangle a rectangle', () => {
  const corners = rectangle([0, 0, 4, 3]);
  assert.deepEqual(rectOf(withCorner(corners, 2, [5, 1])), [0, 0, 5, 1]);
  assert.deepEqual(rectOf(withCorner(corners, 0, [6, 5])), [4, 3, 2, 2]);
  assert.deepEqual(withCorner([[0, 0], [4, 0], [2, 3]], 2, [2, 4]), [[0, 0], [4, 0], [2, 4]]);
  assert.deepEqual(moved([[0, 0], [1, 0.3]], 0.1, -0.2), [[0.1, -0.2], [1.1, 0.1]]);
});

test('nearly straight is straight, a length goes where the pointer is', () => {
  assert.deepEqual(squared([1, 1], [5, 1.2], 0.1), [5, 1]);
  assert.deepEqual(squared([1, 1], [1.05, 1.4], 0.1), [1, 1.4]);
  assert.deepEqual(squared([1, 1], [3, 2], 0.1), [3, 2]);
  assert.deepEqual(towards([1, 1], [1, 7], 2.5), [1, 3.5]);
  assert.deepEqual(towards([0, 0], [3, 4], 10), [6, 8]);
  assert.deepEqual(towards([1, 2], [1, 2], 3), [4, 2]);
});

test('corners are read as they are written', () => {
  assert.deepEqual(typedCorners('0 0; 4,5 0;4.5 3 ; '), [[0, 0], [4.5, 0], [4.5, 3]]);
  assert.deepEqual(typedCorners(''), []);
  for (const wrong of ['1', '1 2 3', '1 2; x 3', '1;2', '1 Infinity', '<b> 1']) assert.equal(typedCorners(wrong), null, wrong);
  const corners = [[0.001, -2], [3.25, 7]];
  assert.deepEqual(typedCorners(cornersText(corners)), corners);
});

test('words never cover a symbol or other words, and stay where they stood', () => {
  const next = random(5);
  const overlap = ([l, t, w, h], [l2, t2, w2, h2]) => Math.min(l + w, l2 + w2) - Math.max(l, l2) > 4.1 && Math.min(t + h, t2 + h2) - Math.max(t, t2) > 0.01;
  for (let run = 0; run < 50; ++run) {
    const things = Array.from({length: 30}, (_, i) => ({
      at: [next() * 700, next() * 500], options: i < 22 ? [['a device', '44 % (15–62 %), chance 51 %'], ['44 %']] : [['living room']], isName: i >= 22}));
    const found = arranged(things, [700, 500]);
    const papers = found.flatMap((place, i) => {
      if (!place) return [];
      const [x, y, width, height] = standing(place).paper;
      return [[things[i].at[0] + x, things[i].at[1] + y, width, height]];
    });
    assert.ok(papers.length > 10);
    papers.forEach((one, i) => papers.slice(i + 1).forEach((other) => assert.ok(!overlap(one, other), `run ${run}`)));
    // What stood stays, whatever order things come in.
    const again = arranged(things.map((thing, i) => ({...thing, stood: found[i]})).reverse(), [700, 500]).reverse();
    assert.deepEqual(again.map((place, i) => (found[i] ? place?.side : found[i])), found.map((place) => place?.side ?? place));
  }
});
