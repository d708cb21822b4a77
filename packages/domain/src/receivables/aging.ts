import { addDays, type Day, daysBetween } from '../dates.ts';
import type { InvoiceId } from '../ids.ts';
import { sumMinor } from '../money/money.ts';

/** The day that age is counted from; the tenant's choice. */
export type AgingBasis = 'due_date' | 'document_date';

/** From not yet due to longest overdue. Common practice, no source. */
export const agingBuckets = ['current', 'days_1_30', 'days_31_60', 'days_61_90', 'over_90'] as const;
export type AgingBucket = (typeof agingBuckets)[number];

/** What settled a part of a document, or, when negative, reopened it. */
export interface Settlement {
  readonly on: Day;
  readonly amountMinor: bigint;
}

/** An invoice, or the document of a fee or an opening balance, and all that has happened to its amount. */
export interface OpenItemFacts {
  readonly invoiceId: InvoiceId;
  readonly number: string;
  readonly issuedOn: Day;
  readonly dueOn: Day;
  /** The day it entered the ledger: that of issue, but for a document brought along from older books. */
  readonly postedOn: Day;
  readonly amountMinor: bigint;
  readonly settlements: readonly Settlement[];
}

/** A movement of account credit: positive when credit is given, negative when it is used or goes back. */
export interface CreditMovement {
  readonly on: Day;
  readonly amountMinor: bigint;
}

export interface AgedItem {
  readonly invoiceId: InvoiceId;
  readonly number: string;
  readonly issuedOn: Day;
  readonly dueOn: Day;
  readonly openMinor: bigint;
  /** Zero while it is not yet due. */
  readonly daysPastDue: number;
  readonly bucket: AgingBucket;
}

export interface Aging {
  readonly asOf: Day;
  readonly basis: AgingBasis;
  /** Open items, oldest due first. */
  readonly items: readonly AgedItem[];
  readonly buckets: Readonly<Record<AgingBucket, bigint>>;
  /** Account credit that settles nothing yet, as the negative amount it is in the balance. */
  readonly unappliedMinor: bigint;
  /** The buckets and the unapplied credit together: receivables less account credit. */
  readonly balanceMinor: bigint;
}

export interface AgingInput {
  readonly asOf: Day;
  readonly basis: AgingBasis;
  readonly items: readonly OpenItemFacts[];
  readonly credits: readonly CreditMovement[];
}

/**
 * What an account owes as of a day, by age. Only what is dated on or before that day counts, so that the same
 * day gives the same answer later; an item that reopens ages from its own date, not from the reopening.
 */
export function age(input: AgingInput): Aging {
  const items = input.items
    .map((facts) => ({ facts, openMinor: openMinorOf(facts, input.asOf) }))
    .filter((item) => item.openMinor !== 0n)
    .map((item) => agedItem(item.facts, item.openMinor, input))
    .toSorted(byDueDate);
  const buckets = bucketTotals(items);
  const unappliedMinor = -sumThrough(input.asOf, input.credits);
  const balanceMinor = sumMinor(Object.values(buckets)) + unappliedMinor;
  return { asOf: input.asOf, basis: input.basis, items, buckets, unappliedMinor, balanceMinor };
}

function openMinorOf(facts: OpenItemFacts, asOf: Day): bigint {
  const chargedMinor = facts.postedOn <= asOf ? facts.amountMinor : 0n;
  return chargedMinor - sumThrough(asOf, facts.settlements);
}

function agedItem(facts: OpenItemFacts, openMinor: bigint, { asOf, basis }: AgingInput): AgedItem {
  const { invoiceId, number, issuedOn, dueOn } = facts;
  return {
    invoiceId,
    number,
    issuedOn,
    dueOn,
    openMinor,
    daysPastDue: Math.max(0, daysBetween(dueOn, asOf)),
    bucket: bucketOf(daysBetween(basis === 'due_date' ? dueOn : issuedOn, asOf)),
  };
}

/** The most days that each bucket takes; the last one takes all that is older. */
const daysMax: Readonly<Record<AgingBucket, number | null>> = {
  current: 0,
  days_1_30: 30,
  days_31_60: 60,
  days_61_90: 90,
  over_90: null,
};

function bucketOf(days: number): AgingBucket {
  return agingBuckets.find((bucket) => days <= (daysMax[bucket] ?? days)) ?? 'over_90';
}

/** The days from which age is counted that fall into a bucket; null where it has no first or no last one. */
export interface AgingSpan {
  readonly bucket: AgingBucket;
  readonly from: Day | null;
  readonly to: Day | null;
}

/** The buckets of a day as spans of due dates (or document dates), so that sums can be taken where the rows are. */
export function agingSpans(asOf: Day): readonly AgingSpan[] {
  return agingBuckets.map((bucket, place) => {
    const younger = agingBuckets[place - 1];
    const youngerMax = younger === undefined ? null : daysMax[younger];
    const most = daysMax[bucket];
    return {
      bucket,
      from: most === null ? null : addDays(asOf, -most),
      to: youngerMax === null ? null : addDays(asOf, -youngerMax - 1),
    };
  });
}

function bucketTotals(items: readonly AgedItem[]): Record<AgingBucket, bigint> {
  const totals = { current: 0n, days_1_30: 0n, days_31_60: 0n, days_61_90: 0n, over_90: 0n };
  for (const item of items) totals[item.bucket] += item.openMinor;
  return totals;
}

function sumThrough(asOf: Day, movements: readonly CreditMovement[]): bigint {
  return sumMinor(
    movements.filter((movement) => movement.on <= asOf).map((movement) => movement.amountMinor),
  );
}

function byDueDate(a: AgedItem, b: AgedItem): number {
  return compareText(a.dueOn, b.dueOn) || compareText(a.number, b.number);
}

function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
