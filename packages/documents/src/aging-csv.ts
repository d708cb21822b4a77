import { type AgingBucket, agingBuckets, type Day, formatMinor } from '@grainwright/domain';
import { csv } from './csv.ts';

interface Figures {
  readonly buckets: Readonly<Record<AgingBucket, bigint>>;
  readonly unappliedMinor: bigint;
  readonly balanceMinor: bigint;
  readonly disputedMinor: bigint;
}

/** What the table of an aging needs. Amounts are minor units of `currency`. */
export interface AgingTable {
  readonly asOf: Day;
  readonly currency: string;
  readonly accounts: readonly (Figures & { readonly name: string; readonly shortName: string })[];
  readonly total: Figures;
}

/** The aging of all accounts as CSV with columns that stay: a row an account, and the total. */
export function agingCsv({ asOf, currency, accounts, total }: AgingTable): string {
  const figure = (minor: bigint) => ({ figure: formatMinor(minor, currency) });
  const row = (shortName: string, name: string, of: Figures) => [
    asOf,
    shortName,
    name,
    ...agingBuckets.map((bucket) => figure(of.buckets[bucket])),
    figure(of.unappliedMinor),
    figure(of.balanceMinor),
    figure(of.disputedMinor),
    currency,
  ];
  return csv(
    ['as_of', 'account', 'name', ...agingBuckets, 'unapplied', 'balance', 'disputed', 'currency'],
    [...accounts.map((each) => row(each.shortName, each.name, each)), row('total', 'Total', total)],
  );
}
