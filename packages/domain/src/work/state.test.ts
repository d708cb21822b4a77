import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { transition, type WorkOrderEvent, type WorkOrderState, workOrderStates } from './state.ts';

/**
 * Every step a work order may take, written down from the product's description of its life and not from
 * the code: event, state before, state after.
 */
const allowed: readonly string[] = [
  'submitted: written_up > awaiting_approval',
  'approved: awaiting_approval > approved',
  'declined: awaiting_approval > declined',
  'lapsed: awaiting_approval > written_up',
  'started: approved > in_work',
  'finished: in_work > done',
  'accepted: done > accepted',
  'released: done > accepted',
  'reworked_done: done > accepted',
  'invoiced: accepted > invoiced',
  'settled: invoiced > paid',
  'written_off: invoiced > written_off',
  'payment_came_back: paid > invoiced',
  'payment_came_back: written_off > invoiced',
  'recovered: written_off > invoiced',
  'recovered: paid > invoiced',
  'invoice_voided: invoiced > accepted',
  'voided: written_up > void',
  'voided: awaiting_approval > void',
  'voided: approved > void',
  'voided: in_work > void',
  'voided: done > void',
  'price_changed other: written_up > written_up',
  'price_changed other: awaiting_approval > awaiting_approval',
  'price_changed other: approved > awaiting_approval',
  'price_changed other: in_work > awaiting_approval',
  'price_changed other: done > awaiting_approval',
  'price_changed down: written_up > written_up',
  'price_changed down: awaiting_approval > awaiting_approval',
  'price_changed down: approved > approved',
  'price_changed down: in_work > in_work',
  'price_changed down: done > done',
];

const states: readonly WorkOrderState[] = [
  'written_up',
  'awaiting_approval',
  'approved',
  'in_work',
  'done',
  'accepted',
  'invoiced',
  'paid',
  'declined',
  'void',
  'written_off',
];

const events: readonly WorkOrderEvent[] = [
  { type: 'submitted' },
  { type: 'approved' },
  { type: 'declined' },
  { type: 'lapsed' },
  { type: 'started' },
  { type: 'finished' },
  { type: 'accepted' },
  { type: 'released' },
  { type: 'reworked_done' },
  { type: 'invoiced' },
  { type: 'settled' },
  { type: 'payment_came_back' },
  { type: 'invoice_voided' },
  { type: 'price_changed', change: 'down' },
  { type: 'price_changed', change: 'other' },
  { type: 'voided' },
  { type: 'written_off' },
  { type: 'recovered' },
];

function nameOf(event: WorkOrderEvent): string {
  return event.type === 'price_changed' ? `price_changed ${event.change}` : event.type;
}

function follow(state: WorkOrderState, path: readonly WorkOrderEvent[]): WorkOrderState {
  return path.reduce((at, event) => {
    const next = transition(at, event);
    if (!next.ok) throw new Error(next.problem.detail);
    return next.value;
  }, state);
}

test('exactly the steps of the table are possible, from every state by every event', () => {
  const possible = events.flatMap((event) =>
    states.flatMap((state) => {
      const next = transition(state, event);
      return next.ok ? [`${nameOf(event)}: ${state} > ${next.value}`] : [];
    }),
  );
  expect(possible.toSorted()).toEqual([...allowed].sort());
  expect(Object.keys(workOrderStates).toSorted()).toEqual([...states].sort());
});

test('no sequence of events takes a step that the table forbids', () => {
  fc.assert(
    fc.property(fc.array(fc.constantFrom(...events), { maxLength: 60 }), (sequence) => {
      let state: WorkOrderState = 'written_up';
      for (const event of sequence) {
        const next = transition(state, event);
        if (!next.ok) {
          expect(next.problem.code).toBe('wrong_state');
          continue;
        }
        expect(allowed).toContain(`${nameOf(event)}: ${state} > ${next.value}`);
        state = next.value;
      }
    }),
    { numRuns: 500 },
  );
});

test('work is never done, accepted, invoiced or paid without having been approved since its last rise in price', () => {
  const likely = fc.oneof(
    {
      weight: 3,
      arbitrary: fc.constantFrom(...events.filter(({ type }) => !['voided', 'declined'].includes(type))),
    },
    { weight: 1, arbitrary: fc.constantFrom(...events) },
  );
  fc.assert(
    fc.property(fc.array(likely, { maxLength: 120 }), (sequence) => {
      let state: WorkOrderState = 'written_up';
      let approved = false;
      for (const event of sequence) {
        const next = transition(state, event);
        if (!next.ok) continue;
        if (event.type === 'price_changed' && event.change === 'other') approved = false;
        if (event.type === 'approved') approved = true;
        state = next.value;
        if (['approved', 'in_work', 'done', 'accepted', 'invoiced', 'paid'].includes(state))
          expect(approved).toBe(true);
      }
    }),
    { numRuns: 500 },
  );
});

describe('the path', () => {
  const toDone: readonly WorkOrderEvent[] = [
    { type: 'submitted' },
    { type: 'approved' },
    { type: 'started' },
    { type: 'finished' },
  ];

  test('a work order goes from written up to paid', () => {
    const path: readonly WorkOrderEvent[] = [
      ...toDone,
      { type: 'accepted' },
      { type: 'invoiced' },
      { type: 'settled' },
    ];
    expect(follow('written_up', path)).toBe('paid');
  });

  test('a payment that came back and an invoice voided take it back step by step', () => {
    expect(follow('paid', [{ type: 'payment_came_back' }, { type: 'invoice_voided' }])).toBe('accepted');
  });

  test('a price raised while in work has to be approved and started again', () => {
    const raised: WorkOrderEvent = { type: 'price_changed', change: 'other' };
    expect(follow('written_up', [...toDone, raised])).toBe('awaiting_approval');
    expect(follow('written_up', [...toDone, raised, { type: 'approved' }])).toBe('approved');
  });
});

test('a refusal names the state it is in and the states from which it can happen', () => {
  const refused = transition('invoiced', { type: 'started' });
  expect(refused).toMatchObject({ ok: false, problem: { code: 'wrong_state' } });
  expect(refused.ok ? '' : refused.problem.detail).toBe(
    'This work order is “invoiced”. It can be started only from “approved”.',
  );
});

test.each(['accepted', 'invoiced', 'paid', 'written_off'] as const)(
  'once %s, a change is refused and the way to correct it is named',
  (state) => {
    const refused = transition(state, { type: 'price_changed', change: 'down' });
    expect(refused.ok ? '' : refused.problem.detail).toContain('credit note');
  },
);
