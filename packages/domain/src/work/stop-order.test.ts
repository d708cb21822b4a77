import { expect, test } from 'vitest';
import { toId, type VisitId } from '../ids.ts';
import { movedStop, placesOfStops } from './stop-order.ts';

const [a, b, c] = [1, 2, 3].map((number) => toId<VisitId>(`01980000-0000-7000-8000-00000000000${number}`));
if (a === undefined || b === undefined || c === undefined) throw new Error('three stops are needed');

test('stops take the places of the order that is wished, from 1', () => {
  const places = placesOfStops([a, b, c], [c, a, b]);
  expect(places.ok && [...places.value]).toEqual([
    [c, 1],
    [a, 2],
    [b, 3],
  ]);
});

test('an order that misses a stop, names one twice or names another one is refused', () => {
  for (const wished of [
    [a, b],
    [a, b, b],
    [a, b, c, c],
    [a, b, toId<VisitId>('01980000-0000-7000-8000-000000000009')],
  ])
    expect(placesOfStops([a, b, c], wished).ok).toBe(false);
});

test('a stop moves by one place, and not beyond the ends', () => {
  expect(movedStop([a, b, c], b, 'earlier')).toEqual([b, a, c]);
  expect(movedStop([a, b, c], b, 'later')).toEqual([a, c, b]);
  expect(movedStop([a, b, c], a, 'earlier')).toBeNull();
  expect(movedStop([a, b, c], c, 'later')).toBeNull();
});
