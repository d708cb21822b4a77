import fc from 'fast-check';
import { addDays, type Day, day } from '../dates.ts';
import { type AccountId, toId } from '../ids.ts';
import type { PostedEntry } from '../ledger/journal.ts';
import { type Notebook, steps } from './any-ledger-steps.ts';

/** A course of business: its journal in the order of posting, and the notebook kept beside it. */
export interface AnyLedger {
  readonly journal: readonly PostedEntry[];
  readonly notebook: Notebook;
}

export const anyParties: readonly [AccountId, AccountId] = [
  toId('00000000-0000-7000-8000-0000000000a1'),
  toId('00000000-0000-7000-8000-0000000000a2'),
];

/** Every event is dated from January to June 2026. */
const firstEvent = day('2026-01-01');
const lastEvent = day('2026-06-30');

const step = fc.record({
  does: fc.constantFrom(...stepNames()),
  party: fc.constantFrom(0, 1),
  pick: fc.nat(20),
  amountMinor: fc.bigInt({ min: 500n, max: 90_000n }),
  daysOn: fc.nat(9),
  daysBack: fc.oneof({ arbitrary: fc.constant(0), weight: 3 }, { arbitrary: fc.nat(40), weight: 1 }),
});

type Course = readonly (typeof step extends fc.Arbitrary<infer Taken> ? Taken : never)[];

/** Two accounts and any events the rules allow, in any order, some of them dated back. */
export const anyCourse: fc.Arbitrary<Course> = fc.array(step, { maxLength: 60, size: 'max' });

/** What a course of business leaves in the books. */
export function ledgerOf(course: Course): AnyLedger {
  const notebook: Notebook = {
    documents: new Map(),
    owedMinor: new Map(),
    depositsMinor: new Map(),
    invoices: [],
    money: [],
    unknown: [],
    ids: 0,
  };
  let today = firstEvent;
  const entries = course.flatMap(({ does, party, pick, amountMinor, daysOn, daysBack }) => {
    today = within(addDays(today, daysOn));
    const circumstances = {
      party: anyParties[party === 0 ? 0 : 1],
      other: anyParties[party === 0 ? 1 : 0],
      on: within(addDays(today, -daysBack)),
      pick,
      amountMinor,
    };
    return steps[does](notebook, circumstances);
  });
  return { journal: entries.map((entry, index) => ({ ...entry, sequence: BigInt(index + 1) })), notebook };
}

function stepNames(): (keyof typeof steps)[] {
  return Object.keys(steps).filter((name): name is keyof typeof steps => name in steps);
}

function within(on: Day): Day {
  if (on < firstEvent) return firstEvent;
  return on > lastEvent ? lastEvent : on;
}
