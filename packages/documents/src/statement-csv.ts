import {
  type AgedItem,
  type Aging,
  type AgingBucket,
  agingBuckets,
  type Day,
  formatMinor,
  type Month,
} from '@grainwright/domain';
import { type CsvCell, csv } from './csv.ts';

/** What a statement's table needs. Amounts are minor units of `currency`. */
export interface StatementTable {
  readonly accountName: string;
  readonly currency: string;
  readonly month: Month;
  readonly from: Day;
  readonly to: Day;
  readonly openingMinor: bigint;
  readonly rows: readonly {
    readonly on: Day;
    readonly kind: 'charge' | 'credit' | 'payment';
    readonly words: string;
    readonly document: string;
    /** The customer’s own numbers; may be empty. */
    readonly theirNumbers: string;
    readonly amountMinor: bigint;
  }[];
  readonly chargesMinor: bigint;
  readonly creditsMinor: bigint;
  readonly paymentsMinor: bigint;
  readonly closingMinor: bigint;
  readonly aging: Omit<Aging, 'items'> & {
    readonly items: readonly (AgedItem & { readonly theirNumbers: string; readonly disputedMinor: bigint })[];
  };
  /** No part of the balance. */
  readonly depositsHeldMinor: bigint;
}

const columns = [
  'account',
  'month',
  'section',
  'date',
  'document',
  'description',
  'due_on',
  'days_past_due',
  'their_numbers',
  'disputed',
  'amount',
  'currency',
] as const;

interface Line {
  readonly section: string;
  readonly date: Day;
  readonly document?: string;
  readonly description: string;
  readonly dueOn?: Day;
  readonly daysPastDue?: number;
  readonly theirNumbers?: string;
  readonly disputedMinor?: bigint;
  readonly amountMinor: bigint;
}

/**
 * A statement as CSV with columns that stay: the opening balance, every entry as it moves the balance, the totals of
 * these entries with the same sign, so that opening balance and totals add up to the closing balance, then the open items with what of them is disputed, the aging by bucket, the credit
 * not yet applied and, apart, the deposits held.
 */
export function statementCsv(statement: StatementTable): string {
  const lines = [...movementLines(statement), ...totalLines(statement), ...agingLines(statement)];
  return csv(
    columns,
    lines.map((line) => cells(statement, line)),
  );
}

function movementLines(statement: StatementTable): readonly Line[] {
  const { from, openingMinor, rows } = statement;
  return [
    { section: 'opening_balance', date: from, description: 'Opening balance', amountMinor: openingMinor },
    ...rows.map(({ kind, on, document, words, theirNumbers, amountMinor }) => ({
      section: kind,
      date: on,
      document,
      description: words,
      theirNumbers,
      amountMinor,
    })),
  ];
}

function totalLines(statement: StatementTable): readonly Line[] {
  const { to: date, chargesMinor, creditsMinor, paymentsMinor, closingMinor } = statement;
  return [
    { section: 'total_charges', date, description: 'Charges', amountMinor: chargesMinor },
    { section: 'total_credits', date, description: 'Credits', amountMinor: -creditsMinor },
    { section: 'total_payments', date, description: 'Payments', amountMinor: -paymentsMinor },
    { section: 'closing_balance', date, description: 'Closing balance', amountMinor: closingMinor },
  ];
}

/** The aging buckets as pages and files name them. */
export const agingBucketNames: Readonly<Record<AgingBucket, string>> = {
  current: 'Not yet due',
  days_1_30: '1 to 30 days',
  days_31_60: '31 to 60 days',
  days_61_90: '61 to 90 days',
  over_90: 'Over 90 days',
};

function agingLines({ to: date, aging, depositsHeldMinor }: StatementTable): readonly Line[] {
  return [
    ...aging.items.map((item) => ({
      section: 'open_item',
      date: item.issuedOn,
      document: item.number,
      description: 'Open',
      dueOn: item.dueOn,
      daysPastDue: item.daysPastDue,
      theirNumbers: item.theirNumbers,
      disputedMinor: item.disputedMinor,
      amountMinor: item.openMinor,
    })),
    ...agingBuckets.map((bucket) => ({
      section: `aging_${bucket}`,
      date,
      description: agingBucketNames[bucket],
      amountMinor: aging.buckets[bucket],
    })),
    {
      section: 'unapplied_credit',
      date,
      description: 'Credit not yet applied',
      amountMinor: aging.unappliedMinor,
    },
    {
      section: 'deposits_held',
      date,
      description: 'Deposits held, no part of the balance',
      amountMinor: depositsHeldMinor,
    },
  ];
}

function cells({ accountName, month, currency }: StatementTable, line: Line): readonly CsvCell[] {
  return [
    accountName,
    month,
    line.section,
    line.date,
    line.document ?? '',
    line.description,
    line.dueOn ?? '',
    line.daysPastDue === undefined ? '' : { figure: String(line.daysPastDue) },
    line.theirNumbers ?? '',
    line.disputedMinor === undefined ? '' : { figure: formatMinor(line.disputedMinor, currency) },
    { figure: formatMinor(line.amountMinor, currency) },
    currency,
  ];
}
