import { expect, test } from 'vitest';
import { type WaitingFacts, waitsFor } from './waits-for.ts';

const facts: WaitingFacts = {
  state: 'written_up',
  reworkWithoutCharge: false,
  demandedNumbers: ['repair_order', 'purchase_order'],
  givenNumbers: ['repair_order', 'purchase_order'],
};

// Common practice, no source.
test.each<[WaitingFacts['state'], string]>([
  ['written_up', 'technician'],
  ['awaiting_approval', 'approval'],
  ['approved', 'technician'],
  ['in_work', 'technician'],
  ['done', 'acceptance'],
  ['accepted', 'invoice'],
  ['invoiced', 'money'],
  ['paid', 'nobody'],
  ['declined', 'nobody'],
  ['void', 'nobody'],
  ['written_off', 'nobody'],
])('a work order that is %s waits for %s', (state, waits) => {
  expect(waitsFor({ ...facts, state })).toBe(waits);
});

test('accepted work waits for the PO while a demanded number is missing', () => {
  expect(waitsFor({ ...facts, state: 'accepted', givenNumbers: ['repair_order'] })).toBe('po');
  expect(waitsFor({ ...facts, state: 'accepted', demandedNumbers: [], givenNumbers: [] })).toBe('invoice');
});

test('an accepted rework without charge waits for nobody', () => {
  expect(waitsFor({ ...facts, state: 'accepted', reworkWithoutCharge: true, givenNumbers: [] })).toBe(
    'nobody',
  );
});
