import { expect, test } from 'vitest';
import { type LineId, toId } from '../ids.ts';
import { leftToDo, nextTask, type TaskFacts } from './next-task.ts';

const lineId = toId<LineId>('01980000-0000-7000-8000-000000000002');
const line = {
  id: lineId,
  repairsDamage: true,
  unpriced: null,
  answer: 'approved',
  keyRemote: false,
} as const;

function taskIn(state: TaskFacts['state'], has: Partial<TaskFacts> = {}) {
  return nextTask({
    state,
    holdReason: null,
    notAccepted: false,
    lines: [line],
    testedKeys: [],
    photos: [],
    ...has,
  });
}

test('a hold keeps approved work from starting, and stops nothing else', () => {
  const holdReason = 'the account is past due';
  expect(taskIn('approved', { holdReason })).toEqual({ kind: 'await_hold' });
  expect(taskIn('approved')).toEqual({ kind: 'start' });
  expect(taskIn('written_up', { holdReason })).toEqual({ kind: 'before_photo', lineId });
  expect(taskIn('in_work', { holdReason })).toEqual({ kind: 'after_photo', lineId });
});

test('done work is handed over; what was not accepted is put right first', () => {
  expect(taskIn('done')).toEqual({ kind: 'hand_over' });
  expect(taskIn('done', { notAccepted: true })).toEqual({ kind: 'put_right' });
  expect(leftToDo(['put_right', 'hand_over', 'put_right'])).toBe('2 to put right, 1 to accept');
});

test('a photo of another line does not stand for this one', () => {
  const other = toId<LineId>('01980000-0000-7000-8000-000000000003');
  expect(taskIn('written_up', { photos: [{ lineId: other, purpose: 'before' }] }).kind).toBe('before_photo');
  expect(taskIn('written_up', { photos: [{ lineId, purpose: 'before' }] }).kind).toBe('send');
});

test('what is left to do is counted in the order of a job, in words', () => {
  expect(
    leftToDo([
      'hand_over',
      'before_photo',
      'await_approval',
      'finish',
      'before_photo',
      'after_photo',
      'test_key',
      'nothing',
    ]),
  ).toBe('2 to photograph, 1 waits for approval, 3 to finish, 1 to accept');
  expect(
    leftToDo(['add_line', 'price', 'send', 'await_approval', 'await_approval', 'await_hold', 'start']),
  ).toBe('2 to write up, 1 to send, 2 wait for approval, 1 on hold, 1 to start');
});

test('where nothing is left to do, nothing is said', () => {
  expect(leftToDo(['nothing', 'nothing'])).toBe('');
  expect(leftToDo([])).toBe('');
});
