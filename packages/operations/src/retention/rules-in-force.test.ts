import { addSeconds, instant } from '@grainwright/domain';
import { expect, test } from 'vitest';
import { ruleInForce, waitingRule } from './rules-in-force.ts';

const start = instant('2026-08-05T12:00:00Z');
const dayOf = (days: number) => addSeconds(start, days * 86_400);
const rule = (number: number, setOn: number, countsFrom: number) => ({
  number,
  setAt: dayOf(setOn),
  effectiveAt: dayOf(countsFrom),
});
const inForce = (rules: readonly ReturnType<typeof rule>[], on: number) =>
  ruleInForce(rules, dayOf(on))?.number ?? null;

test('a rule that waits does not count before its day, and then does', () => {
  const rules = [rule(1, 0, 0), rule(2, 10, 40)];
  expect([inForce(rules, 39), waitingRule(rules, dayOf(39))?.number]).toEqual([1, 2]);
  expect([inForce(rules, 40), waitingRule(rules, dayOf(40))]).toEqual([2, null]);
});

test('a mistake that was stopped while it waited never counts', () => {
  const rules = [rule(1, 0, 0), rule(2, 10, 40), rule(3, 20, 20)];
  expect([20, 39, 40, 400].map((on) => inForce(rules, on))).toEqual([3, 3, 3, 3]);
});

test('one that was overtaken by another that waits longer never counts; until then the one before does', () => {
  const rules = [rule(1, 0, 0), rule(2, 10, 40), rule(3, 20, 50)];
  expect([39, 40, 49, 50].map((on) => inForce(rules, on))).toEqual([1, 1, 1, 3]);
});

test('without a rule none counts', () => {
  expect(inForce([], 0)).toBeNull();
  expect(inForce([rule(1, 0, 30)], 29)).toBeNull();
});
