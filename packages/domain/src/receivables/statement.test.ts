import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { day, lastDay, month } from '../dates.ts';
import { type PaymentId, toId } from '../ids.ts';
import { balanced, type JournalEvent, type PostedEntry, sumOf } from '../ledger/journal.ts';
import { paymentReceived } from '../ledger/payment-postings.ts';
import { type AnyLedger, anyCourse, anyParties, ledgerOf } from './any-ledger.test-support.ts';
import {
  cents,
  type DemoAccount,
  demoAccount,
  demoAccounts,
  demoCreditNote,
  demoDocuments,
  demoInvoice,
  demoJournal,
} from './demo-receivables.ts';
import { buildStatement, type Statement, type StatementInput } from './statement.ts';
import type { StatementRowKind } from './statement-effects.ts';

const months = ['2026-01', '2026-02', '2026-03', '2026-04', '2026-05', '2026-06'].map(month);

describe('the demo', () => {
  // The demo's check values, opening + charges − credits − payments = closing. UF's September and HD's October
  // follow from its tables of invoices, receipts and credit notes.
  test.each<[DemoAccount, string, string, string, string, string, string]>([
    ['PL', '2026-09', '207.25', '600.78', '0.00', '565.58', '242.45'],
    ['PL', '2026-10', '242.45', '773.24', '0.00', '242.45', '773.24'],
    ['TR', '2026-09', '521.08', '242.68', '0.00', '600.00', '163.76'],
    ['TR', '2026-10', '163.76', '0.00', '0.00', '0.00', '163.76'],
    ['UF', '2026-09', '472.37', '0.00', '0.00', '408.62', '63.75'],
    ['HD', '2026-10', '337.88', '612.59', '121.56', '337.88', '491.03'],
    ['BG', '2026-10', '97.48', '0.00', '0.00', '220.70', '-123.22'],
  ])('%s in %s: %s + %s − %s − %s = %s', (key, of, opening, charges, credits, payments, closing) => {
    expect(demoStatement(key, of)).toMatchObject({
      openingMinor: cents(opening),
      chargesMinor: cents(charges),
      creditsMinor: cents(credits),
      paymentsMinor: cents(payments),
      closingMinor: cents(closing),
    });
  });

  test('the closing balances of October come to 1,824.65 in all', () => {
    const october = demoAccounts.map((key) => demoStatement(key, '2026-10'));
    expect(october.reduce((sum, statement) => sum + statement.closingMinor, 0n)).toBe(cents('1,824.65'));
  });

  test('the three months come to 7,089.47 invoiced, 121.56 credited and 5,143.26 received', () => {
    const all = demoAccounts.flatMap((key) =>
      ['2026-08', '2026-09', '2026-10'].map((of) => demoStatement(key, of)),
    );
    const total = (pick: (statement: Statement) => bigint) => all.reduce((sum, one) => sum + pick(one), 0n);
    expect(total((statement) => statement.chargesMinor)).toBe(cents('7,089.47'));
    expect(total((statement) => statement.creditsMinor)).toBe(cents('121.56'));
    expect(total((statement) => statement.paymentsMinor)).toBe(cents('5,143.26'));
  });

  test('a walk-in’s month tells the deposit when the invoice takes it, and the returned check', () => {
    const { rows, closingMinor, depositsHeldMinor } = demoStatement('RW', '2026-08');
    expect(rows.map((row) => [row.on, row.event, row.kind, row.amountMinor])).toEqual([
      ['2026-08-12', 'invoice_issued', 'charge', cents('330.69')],
      ['2026-08-12', 'deposit_applied', 'payment', cents('-120.00')],
      ['2026-08-12', 'payment_received', 'payment', cents('-210.69')],
      ['2026-08-19', 'payment_returned', 'payment', cents('210.69')],
      ['2026-08-24', 'payment_received', 'payment', cents('-210.69')],
    ]);
    expect([closingMinor, depositsHeldMinor]).toEqual([0n, 0n]);
  });

  test('rows name their documents: HD’s October has the invoice and both credit notes', () => {
    const { rows } = demoStatement('HD', '2026-10');
    expect(rows[0]?.invoiceIds).toEqual([demoInvoice('INV-2020')]);
    expect(rows.flatMap((row) => row.creditNoteIds)).toEqual(['CN-3001', 'CN-3002'].map(demoCreditNote));
  });

  test('an overpaid account closes in credit, with nothing open', () => {
    const { aging } = demoStatement('BG', '2026-10');
    expect(aging.items).toEqual([]);
    expect(aging.unappliedMinor).toBe(cents('-123.22'));
  });

  test('a deposit held is told apart from the balance', () => {
    const before = demoJournal().filter((entry) => entry.occurredOn <= day('2026-08-11'));
    const statement = buildStatement({ ...demoInput('RW', '2026-08'), entries: before });
    expect(statement).toMatchObject({ rows: [], closingMinor: 0n, depositsHeldMinor: cents('120.00') });
  });
});

describe('a receipt dated back', () => {
  const august = buildStatement({ ...demoInput('DR', '2026-08'), throughSequence: 100n });
  const late: PostedEntry = {
    sequence: 101n,
    ...paymentReceived({
      party: demoAccount('DR'),
      on: day('2026-08-30'),
      paymentId: toId<PaymentId>('00000000-0000-7000-8000-0000000000c1'),
      amountMinor: cents('1.00'),
      place: 'bank',
    }),
  };
  const entries = [...demoJournal(), late];

  test('leaves the frozen statement as it was', () => {
    expect(buildStatement({ ...demoInput('DR', '2026-08'), entries, throughSequence: 100n })).toEqual(august);
  });

  test('shows in the next statement, which opens where the frozen one closed', () => {
    const previous = { month: august.month, throughSequence: august.throughSequence };
    const september = buildStatement({
      ...demoInput('DR', '2026-09'),
      entries,
      throughSequence: 101n,
      previous,
    });
    expect(september.openingMinor).toBe(august.closingMinor);
    expect(september.rows[0]).toMatchObject({ on: '2026-08-30', amountMinor: cents('-1.00') });
    // 363.17 + 265.45 − 363.17 − 1.00
    expect(september.closingMinor).toBe(cents('264.45'));
  });
});

describe('a journal that does not fit', () => {
  test.each<JournalEvent>(['payment_applied', 'credit_note_issued'])(
    'throws: an invoice’s lines under the name %s move the balance without a row',
    (event) => {
      const entries = demoJournal().map((entry) =>
        entry.event === 'invoice_issued' ? { ...entry, event } : entry,
      );
      expect(() => buildStatement({ ...demoInput('PL', '2026-08'), entries })).toThrow();
    },
  );

  test('throws: a document that nobody knows', () => {
    expect(() => buildStatement({ ...demoInput('PL', '2026-08'), documents: new Map() })).toThrow(
      'a document that is not there',
    );
  });
});

describe('in any course of business', () => {
  test('every entry balances, and so does the journal', () => {
    holds(({ journal }) => {
      for (const entry of journal) expect(balanced(entry.lines)).toBe(true);
      expect(sumOf(journal.flatMap((entry) => entry.lines))).toBe(0n);
    });
  });

  test('a month opens where the one before it closed, and its equation holds', () => {
    holds((ledger) => {
      for (const statements of anyParties.map((party) => statementsOf(ledger, party))) {
        expect(statements[0]?.openingMinor).toBe(0n);
        for (const [index, statement] of statements.entries()) {
          const { openingMinor, chargesMinor, creditsMinor, paymentsMinor, closingMinor } = statement;
          expect(openingMinor + chargesMinor - creditsMinor - paymentsMinor).toBe(closingMinor);
          expect(statements[index + 1]?.openingMinor ?? closingMinor).toBe(closingMinor);
        }
      }
    });
  });

  test('the buckets less unapplied credit are the ledger’s receivables less account credit', () => {
    holds((ledger) => {
      for (const party of anyParties)
        for (const { month: of, aging, closingMinor } of statementsOf(ledger, party)) {
          const ledgerMinor = sumOf(
            ledger.journal
              .filter((entry) => entry.occurredOn <= lastDay(of))
              .flatMap((entry) => entry.lines)
              .filter((line) => line.partyId === party)
              .filter((line) => line.account === 'receivables' || line.account === 'account_credit'),
          );
          expect(aging.balanceMinor).toBe(ledgerMinor);
          expect(closingMinor).toBe(ledgerMinor);
        }
    });
  });

  test('the last month closes at what a notebook says is owed, with the deposits it says are held', () => {
    holds((ledger) => {
      for (const party of anyParties) {
        const last = statementsOf(ledger, party).at(-1);
        expect(last?.closingMinor).toBe(ledger.notebook.owedMinor.get(party) ?? 0n);
        expect(last?.depositsHeldMinor).toBe(ledger.notebook.depositsMinor.get(party) ?? 0n);
      }
    });
  });

  test('charges, credits and payments are what a statement’s reader takes them for', () => {
    // Common practice, no source.
    const told: Record<StatementRowKind, readonly JournalEvent[]> = {
      charge: [
        'invoice_issued',
        'invoice_voided',
        'return_fee_charged',
        'late_charge_charged',
        'opening_balance',
      ],
      credit: ['credit_note_issued', 'discount_taken', 'written_off', 'write_off_recovered'],
      payment: [
        ...(['payment_received', 'payment_returned', 'deposit_applied', 'deposit_unapplied'] as const),
        ...(['credit_refunded', 'credit_moved', 'unknown_receipt_assigned'] as const),
      ],
    };
    holds((ledger) => {
      for (const party of anyParties)
        for (const row of statementsOf(ledger, party).flatMap((statement) => statement.rows))
          expect(told[row.kind]).toContain(row.event);
    });
  });

  test('statements frozen as business goes on tell every event once, however it is dated', () => {
    holds((ledger) => {
      for (const party of anyParties) {
        const frozen = frozenStatements(ledger, party);
        for (const [index, statement] of frozen.entries())
          expect(frozen[index + 1]?.openingMinor ?? statement.closingMinor).toBe(statement.closingMinor);
        expect(frozen.at(-1)?.closingMinor).toBe(ledger.notebook.owedMinor.get(party) ?? 0n);
        const told = frozen.flatMap((statement) => statement.rows.map((row) => row.sequence));
        expect(new Set(told).size).toBe(told.length);
      }
    });
  });
});

function holds(property: (ledger: AnyLedger) => void): void {
  fc.assert(
    fc.property(anyCourse, (course) => property(ledgerOf(course))),
    { numRuns: 50 },
  );
}

function statementsOf({ journal, notebook }: AnyLedger, party: (typeof anyParties)[number]): Statement[] {
  const throughSequence = BigInt(journal.length);
  const { documents } = notebook;
  const common = { party, throughSequence, entries: journal, documents, basis: 'due_date' } as const;
  return months.map((of) => buildStatement({ ...common, month: of, previous: null }));
}

/** Each month cut when a sixth more of the journal was posted, the last one at its end. */
function frozenStatements({ journal, notebook }: AnyLedger, party: (typeof anyParties)[number]): Statement[] {
  const statements: Statement[] = [];
  for (const [index, of] of months.entries()) {
    const before = statements.at(-1);
    statements.push(
      buildStatement({
        party,
        month: of,
        throughSequence: (BigInt(journal.length) * BigInt(index + 1)) / BigInt(months.length),
        previous: before ?? null,
        entries: journal,
        documents: notebook.documents,
        basis: 'document_date',
      }),
    );
  }
  return statements;
}

function demoInput(key: DemoAccount, of: string): StatementInput {
  return {
    party: demoAccount(key),
    month: month(of),
    throughSequence: 1000n,
    previous: null,
    entries: demoJournal(),
    documents: demoDocuments,
    basis: 'due_date',
  };
}

function demoStatement(key: DemoAccount, of: string): Statement {
  return buildStatement(demoInput(key, of));
}
