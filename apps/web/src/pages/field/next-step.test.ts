import { type LineId, day as toDay, toId, type WorkOrderId, type WorkOrderState } from '@grainwright/domain';
import { expect, test } from 'vitest';
import { nextStep, type StepFacts } from './next-step.ts';

const id = toId<WorkOrderId>('01980000-0000-7000-8000-000000000001');
const lineId = toId<LineId>('01980000-0000-7000-8000-000000000002');
const path = `/field/work-orders/${id}`;

const line: StepFacts['lines'][number] = {
  id: lineId,
  repairsDamage: true,
  unpriced: null,
  answer: 'approved',
  keyRemote: false,
};
const shown = (purpose: 'before' | 'after') => ({ lineId, purpose });

function stepIn(state: WorkOrderState, has: Partial<StepFacts> = {}) {
  return nextStep({
    id,
    state,
    holdReason: null,
    acceptance: null,
    lines: [line],
    photos: [],
    keyTests: [],
    reworkOf: null,
    ...has,
  });
}

test('a write-up goes from its first line by price and before picture to sending it', () => {
  expect(stepIn('written_up', { lines: [] }).href).toBe(`${path}/lines/new`);
  expect(stepIn('written_up', { lines: [{ ...line, unpriced: 'by hand' }] }).href).toBe(
    `${path}/lines/${lineId}?change=repair`,
  );
  expect(stepIn('written_up').href).toBe(`${path}/photos?line_id=${lineId}&purpose=before`);
  expect(stepIn('written_up', { photos: [shown('before')] })).toEqual({
    label: 'Send for approval',
    href: `${path}/estimate`,
    method: 'post',
  });
});

test('what repairs no damage needs no picture', () => {
  expect(stepIn('written_up', { lines: [{ ...line, repairsDamage: false }] }).method).toBe('post');
});

test('after approval come the start, the next pictures, finishing and the acceptance', () => {
  expect(stepIn('approved').href).toBe(`${path}/start`);
  // The page proposes the next picture, what proves the work before its end.
  expect(stepIn('in_work').href).toBe(`${path}/photos`);
  expect(stepIn('in_work', { photos: [shown('after')] }).href).toBe(`${path}/finish`);
  expect(stepIn('in_work', { lines: [{ ...line, answer: 'declined' }] }).href).toBe(`${path}/finish`);
  expect(stepIn('done').href).toBe(`${path}/acceptance`);
});

test('while others have to act, the next thing is the next stop', () => {
  expect(stepIn('awaiting_approval').href).toBe('/field');
  expect(stepIn('accepted').href).toBe('/field');
});

test('a key remote is tested before its case is put on', () => {
  const key = { ...line, keyRemote: true };
  expect(stepIn('in_work', { lines: [key] }).href).toBe(`${path}/key-test/${lineId}`);
  expect(stepIn('in_work', { lines: [key], keyTests: [{ lineId }], photos: [shown('after')] }).href).toBe(
    `${path}/finish`,
  );
});

test('a rework is sent without asking anybody', () => {
  const first = { id, number: 1006n, state: 'paid', day: toDay('2026-08-11'), reason: 'finish' } as const;
  expect(stepIn('written_up', { photos: [shown('before')], reworkOf: first }).label).toBe(
    'Go on: nobody has to approve it',
  );
});
