import { formatMinor } from '@grainwright/domain';
import type { StatementList, StatementView } from '@grainwright/operations';
import type { z } from 'zod';
import type { statementAnswer, statementsAnswer } from './schemas.ts';

export function answerStatement(view: StatementView): z.input<typeof statementAnswer> {
  const { account, currency, month, from, to, replacement } = view;
  const amount = (minor: bigint) => formatMinor(minor, currency);
  return {
    account: { id: account.id, name: account.name, billing_address: account.billingAddress },
    currency,
    month,
    from,
    to,
    posting: view.posting.toString(),
    kind: view.kind,
    issued: view.frozen && {
      id: view.frozen.statementId,
      sha256: view.frozen.digest,
      at: view.frozen.issuedAt,
    },
    sealed_day: view.frozen === null ? null : view.sealedDay,
    ...answerFigures(view, currency),
    entries: view.rows.map((row) => ({
      date: row.on,
      posting: row.posting.toString(),
      kind: row.kind,
      description: row.words,
      document: row.document,
      their_numbers: row.theirNumbers,
      invoice_id: row.invoiceId,
      credit_note_id: row.creditNoteId,
      amount: amount(row.amountMinor),
    })),
    aging: answerAging(view),
    deposits_held: amount(view.depositsHeldMinor),
    replacement: {
      vehicles: replacement.vehicles,
      quoted: amount(replacement.quotedMinor),
      repairs: amount(replacement.repairsMinor),
    },
  };
}

export function answerStatements(list: StatementList): z.input<typeof statementsAnswer> {
  const { account, currency } = list;
  return {
    account: { id: account.id, name: account.name },
    currency,
    months: list.months.map((each) => ({
      month: each.month,
      issued_at: each.issuedAt,
      ...answerFigures(each, currency),
    })),
  };
}

type Figures = Omit<StatementList['months'][number], 'month' | 'issuedAt'>;

function answerFigures(figures: Figures, currency: string) {
  return {
    opening: formatMinor(figures.openingMinor, currency),
    charges: formatMinor(figures.chargesMinor, currency),
    credits: formatMinor(figures.creditsMinor, currency),
    payments: formatMinor(figures.paymentsMinor, currency),
    closing: formatMinor(figures.closingMinor, currency),
  };
}

function answerAging({ aging, currency }: StatementView): z.input<typeof statementAnswer>['aging'] {
  const { buckets } = aging;
  const amount = (minor: bigint) => formatMinor(minor, currency);
  return {
    as_of: aging.asOf,
    basis: aging.basis,
    items: aging.items.map((item) => ({
      invoice_id: item.invoiceId,
      number: item.number,
      issued_on: item.issuedOn,
      due_on: item.dueOn,
      their_numbers: item.theirNumbers,
      amount: amount(item.amountMinor),
      settled: amount(item.settledMinor),
      open: amount(item.openMinor),
      disputed: amount(item.disputedMinor),
      days_past_due: item.daysPastDue,
      bucket: item.bucket,
    })),
    buckets: {
      current: amount(buckets.current),
      days_1_30: amount(buckets.days_1_30),
      days_31_60: amount(buckets.days_31_60),
      days_61_90: amount(buckets.days_61_90),
      over_90: amount(buckets.over_90),
    },
    unapplied: amount(aging.unappliedMinor),
    balance: amount(aging.balanceMinor),
  };
}
