import {
  listNamesOfAccounts,
  type OpenInBucket,
  sumAccountCredit,
  sumLedgerOn,
  sumOpenByBucket,
} from '@grainwright/db';
import {
  type AccountId,
  type AgingBasis,
  type AgingBucket,
  agingBuckets,
  agingSpans,
  type Day,
  sumMinor,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';

type Buckets = Readonly<Record<AgingBucket, bigint>>;

/** What is owed, by age. `balanceMinor` is the buckets and the unapplied credit together. */
export interface AgedFigures {
  readonly buckets: Buckets;
  /** Account credit that settles nothing yet, as the negative amount it is in the balance. */
  readonly unappliedMinor: bigint;
  readonly balanceMinor: bigint;
  /** What of the open amount is in dispute. */
  readonly disputedMinor: bigint;
}

export interface AgedAccount extends AgedFigures {
  readonly accountId: AccountId;
  readonly name: string;
  readonly shortName: string;
}

/** All accounts with anything open or unapplied on a day, and what the ledger says they come to. */
export interface AgingOfAll {
  readonly asOf: Day;
  readonly basis: AgingBasis;
  /** By name. */
  readonly accounts: readonly AgedAccount[];
  readonly total: AgedFigures;
  /** Receivables less account credit, summed without regard to accounts. */
  readonly ledgerMinor: bigint;
}

/** Only what is dated on or before the day counts, so that the same day gives the same answer later. */
export async function agingOf(
  { tx, business }: Pick<Scope, 'tx' | 'business'>,
  asOf: Day,
): Promise<AgingOfAll> {
  const basis = business.agingBasis;
  const open = await sumOpenByBucket(tx, asOf, basis, agingSpans(asOf));
  const credits = await sumAccountCredit(tx, asOf);
  const names = await listNamesOfAccounts(tx);
  const ledger = await sumLedgerOn(tx, asOf);
  const byAccount = Map.groupBy(open, (each) => each.accountId);
  const accounts = [...new Set([...byAccount.keys(), ...credits.keys()])]
    .map((accountId) => ({
      accountId,
      name: names.get(accountId)?.name ?? '',
      shortName: names.get(accountId)?.shortName ?? '',
      ...figuresOf(byAccount.get(accountId) ?? [], credits.get(accountId) ?? 0n),
    }))
    .toSorted((a, b) => a.name.localeCompare(b.name, 'en') || (a.accountId < b.accountId ? -1 : 1));
  const allCreditMinor = sumMinor([...credits.values()]);
  return {
    asOf,
    basis,
    accounts,
    total: figuresOf(open, allCreditMinor),
    ledgerMinor: (ledger.get('receivables') ?? 0n) + (ledger.get('account_credit') ?? 0n),
  };
}

function figuresOf(open: readonly OpenInBucket[], creditMinor: bigint): AgedFigures {
  const inBucket = (bucket: AgingBucket) =>
    sumMinor(open.filter((each) => each.bucket === bucket).map((each) => each.openMinor));
  const buckets: Buckets = {
    current: inBucket('current'),
    days_1_30: inBucket('days_1_30'),
    days_31_60: inBucket('days_31_60'),
    days_61_90: inBucket('days_61_90'),
    over_90: inBucket('over_90'),
  };
  return {
    buckets,
    unappliedMinor: -creditMinor,
    balanceMinor: sumMinor(agingBuckets.map((bucket) => buckets[bucket])) - creditMinor,
    disputedMinor: sumMinor(open.map((each) => each.disputedMinor)),
  };
}
