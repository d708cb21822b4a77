import { expect, test } from 'vitest';
import { type AskableApprover, nextWhoMay, whoIsAsked } from './who-is-asked.ts';

// Common practice, no source: an advisor answers up to a limit, a manager above it, the principal without one.
const advisor = approver('a', 40000n, 1);
const manager = approver('b', 150000n, 2);
const principal = approver('c', null, 3);
const all = [principal, manager, advisor];

test('the first of the account’s order is asked, and nobody else while their limit covers it', () => {
  expect(whoIsAsked(all, 40000n)).toEqual({ first: advisor, above: null });
});

test('a cent above the first one’s limit, the next whose limit covers it is asked as well', () => {
  expect(whoIsAsked(all, 40001n)).toEqual({ first: advisor, above: manager });
  expect(whoIsAsked(all, 150001n)).toEqual({ first: advisor, above: principal });
});

test('whoever has no limit comes after those whose limit is high enough, whatever their place', () => {
  const early = { ...principal, askPosition: 1 };
  expect(nextWhoMay([early, { ...advisor, askPosition: 4 }, manager], 100000n, 'x')).toBe(manager);
});

test('a first without a limit answers everything', () => {
  expect(whoIsAsked([{ ...principal, askPosition: 1 }, manager], 9999999n).above).toBeNull();
});

test('somebody without an e-mail address is passed over', () => {
  const unreachable = { ...advisor, hasEmail: false };
  expect(whoIsAsked([unreachable, manager], 100n)).toEqual({ first: manager, above: null });
  expect(whoIsAsked([unreachable], 100n)).toEqual({ first: null, above: null });
  expect(nextWhoMay([advisor, { ...manager, hasEmail: false }], 100000n, 'a')).toBeNull();
});

test('nobody is asked above what anybody may approve', () => {
  expect(whoIsAsked([advisor, manager], 150001n)).toEqual({ first: advisor, above: null });
});

test('nobody passes something on to themselves', () => {
  expect(nextWhoMay([manager], 100n, 'b')).toBeNull();
});

function approver(personId: string, limitMinor: bigint | null, askPosition: number): AskableApprover {
  return { personId, limitMinor, askPosition, hasEmail: true };
}
