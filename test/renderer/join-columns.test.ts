import { expect, test } from 'vitest';
import { joinColumns } from '../../src-renderer/part/chart/join-columns.ts';

test('curves of unlike places share one axis: a line goes on where another has a point, and breaks over its own gap', () => {
  const { x, y } = joinColumns([
    { x: [0, 10, 20, 40], y: [1, 2, 3, 4] },
    { x: [0, 5, 15, 25, 35], y: [9, 8, null, 7, 6] },
  ]);
  expect(x).toEqual([0, 5, 10, 15, 20, 25, 35, 40]);
  expect(y[0]).toEqual([1, undefined, 2, undefined, 3, undefined, undefined, 4]);
  expect(y[1]).toEqual([9, 8, null, null, null, 7, 6, undefined]);
});

test('a gap at an end reaches to the edge', () => {
  const { y } = joinColumns([
    { x: [0, 10, 20, 30], y: [1, 2, 3, 4] },
    { x: [5, 15, 25], y: [null, 1, null] },
  ]);
  expect(y[1]).toEqual([null, null, null, 1, null, null, null]);
});
