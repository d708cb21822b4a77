import fc from 'fast-check';
import { expect, test } from 'vitest';
import { lastDay, month, monthOf } from '../dates.ts';
import type { AccountId } from '../ids.ts';
import type { PostedEntry } from '../ledger/journal.ts';
import { type AnyLedger, anyCourse, anyParties, ledgerOf } from './any-ledger.test-support.ts';
import { cents, demoAccount, demoJournal } from './demo-receivables.ts';
import { type MonthMovement, monthFigures } from './month-figures.ts';
import { buildStatement } from './statement.ts';

test('the demo’s BG account has the figures of its printed statements, month by month', () => {
  const months = ['2026-08', '2026-09', '2026-10'].map(month);
  const figures = monthFigures(months, movementsOf(demoJournal(), demoAccount('BG'), '2026-08'));
  // The demo's statements of BG: invented; computed by one program and recomputed to the cent by a second one.
  expect(figures.map((each) => each.closingMinor)).toEqual([cents('0.00'), cents('97.48'), cents('-123.22')]);
});

test('in any course of business the months have the figures of their statements, wherever the list begins', () => {
  fc.assert(
    fc.property(anyCourse, fc.nat(5), (course, skipped) => {
      const ledger = ledgerOf(course);
      const months = [1, 2, 3, 4, 5, 6].slice(skipped).map((each) => month(`2026-0${each}`));
      for (const party of anyParties) {
        const movements = movementsOf(ledger.journal, party, months[0] ?? '');
        expect(monthFigures(months, movements)).toEqual(
          months.map((of) => statementFigures(ledger, party, of)),
        );
      }
    }),
    { numRuns: 50 },
  );
});

test('a month whose rows do not lead to where the ledger stands throws', () => {
  const august = month('2026-08');
  const untold: MonthMovement = {
    month: august,
    event: 'payment_applied',
    account: 'receivables',
    amountMinor: -100n,
  };
  expect(() => monthFigures([august], [untold])).toThrow('does not lead to where the ledger stands');
});

function statementFigures({ journal, notebook }: AnyLedger, party: AccountId, of: ReturnType<typeof month>) {
  const { openingMinor, chargesMinor, creditsMinor, paymentsMinor, closingMinor } = buildStatement({
    party,
    month: of,
    throughSequence: BigInt(journal.length),
    previous: null,
    entries: journal,
    documents: notebook.documents,
    basis: 'due_date',
    asOf: lastDay(of),
  });
  return { month: of, openingMinor, chargesMinor, creditsMinor, paymentsMinor, closingMinor };
}

function movementsOf(journal: readonly PostedEntry[], party: AccountId, first: string): MonthMovement[] {
  return journal.flatMap(({ event, occurredOn, lines }) => {
    const of = monthOf(occurredOn);
    return lines
      .filter((line) => line.partyId === party)
      .map(({ account, amountMinor }) => ({ month: of < first ? null : of, event, account, amountMinor }));
  });
}
