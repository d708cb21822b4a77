import { expect, test } from 'vitest';
import { type WaitingFacts, waitsFor } from './waits-for.ts';

const facts: WaitingFacts = {
  state: 'written_up',
  holdReason: null,
  reworkWithoutCharge: false,
  notAccepted: false,
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

test('done work that was not accepted waits for the technician to put it right', () => {
  expect(waitsFor({ ...facts, state: 'done', notAccepted: true })).toBe('technician');
});

test('accepted work waits for the PO while a demanded number is missing', () => {
  expect(waitsFor({ ...facts, state: 'accepted', givenNumbers: ['repair_order'] })).toBe('po');
  expect(waitsFor({ ...facts, state: 'accepted', demandedNumbers: [], givenNumbers: [] })).toBe('invoice');
});

test('what is on hold waits for the hold to be lifted until the work has begun; an answer and begun work don’t', () => {
  const held = (state: WaitingFacts['state']) => waitsFor({ ...facts, state, holdReason: 'part not there' });
  const states = ['written_up', 'awaiting_approval', 'approved', 'in_work', 'done'] as const;
  expect(states.map(held)).toEqual(['hold', 'approval', 'hold', 'technician', 'acceptance']);
});

test('an accepted rework without charge waits for nobody', () => {
  expect(waitsFor({ ...facts, state: 'accepted', reworkWithoutCharge: true, givenNumbers: [] })).toBe(
    'nobody',
  );
});
