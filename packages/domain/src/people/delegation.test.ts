import fc from 'fast-check';
import { expect, test } from 'vitest';
import { day } from '../dates.ts';
import { type DelegationId, type PersonId, toId } from '../ids.ts';
import { type Answerer, answerRight, type Delegated, delegatedLimit, furthestRight } from './delegation.ts';

// Common practice, no source: whoever is away lets somebody answer for them, never for more than they may themselves.

const forGideon = (limitMinor: bigint | null): Delegated => ({
  id: toId<DelegationId>('0190a000-0000-7000-8000-000000000001'),
  forPersonId: toId<PersonId>('0190a000-0000-7000-8000-000000000002'),
  forName: 'Gideon Marsh',
  limitMinor,
  through: day('2026-12-04'),
});
const viewer = (...delegated: Delegated[]): Answerer => ({ role: 'viewer', limitMinor: null, delegated });
const approver = (limitMinor: bigint | null, ...delegated: Delegated[]): Answerer => ({
  role: 'approver',
  limitMinor,
  delegated,
});

test('a delegate may approve what the other may, or less where less was named', () => {
  expect(delegatedLimit(40000n, null)).toBe(40000n);
  expect(delegatedLimit(40000n, 25000n)).toBe(25000n);
  expect(delegatedLimit(40000n, 90000n)).toBe(40000n);
  expect(delegatedLimit(null, 25000n)).toBe(25000n);
  expect(delegatedLimit(null, null)).toBeNull();
});

test('whoever approves nothing themselves answers as a delegate, and not at all without', () => {
  expect(answerRight(viewer(forGideon(40000n)), 40000n)?.delegated?.forName).toBe('Gideon Marsh');
  expect(answerRight(viewer(), 0n)).toBeNull();
  expect(furthestRight(viewer())).toBeNull();
});

test('their own limit is used as far as it goes, and only above it the other’s', () => {
  const thea = approver(30000n, forGideon(70000n));
  expect(answerRight(thea, 30000n)).toEqual({ limitMinor: 30000n, delegated: null });
  expect(answerRight(thea, 30001n)?.delegated?.limitMinor).toBe(70000n);
});

test('above every limit the furthest is told, so that a refusal can name it', () => {
  expect(answerRight(approver(30000n, forGideon(70000n)), 70001n)?.limitMinor).toBe(70000n);
  expect(answerRight(approver(90000n, forGideon(70000n)), 90001n)).toEqual({
    limitMinor: 90000n,
    delegated: null,
  });
});

test('without a limit nothing is above it', () => {
  expect(answerRight(viewer(forGideon(100n), forGideon(null)), 99999999n)?.limitMinor).toBeNull();
  expect(furthestRight(approver(null, forGideon(1n)))).toEqual({ limitMinor: null, delegated: null });
});

test('nobody ever approves by delegation what the other may not', () => {
  const limit = fc.option(fc.bigInt({ min: 0n, max: 1000n }), { nil: null });
  fc.assert(
    fc.property(limit, limit, limit, fc.bigInt({ min: 0n, max: 1000n }), (own, others, named, compared) => {
      const right = answerRight(approver(own, forGideon(delegatedLimit(others, named))), compared);
      const covered = (max: bigint | null) => max === null || compared <= max;
      const may = right !== null && covered(right.limitMinor);
      expect(may).toBe(covered(own) || (covered(others) && covered(named)));
    }),
  );
});
