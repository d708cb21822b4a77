import {
  listDocumentsOfAccounts,
  listEntriesOfAccounts,
  type StatementHead,
  type TenantTransaction,
} from '@grainwright/db';
import {
  type AccountId,
  buildStatement,
  type Day,
  type Documents,
  lastDay,
  type Month,
  type PostedEntry,
  type Statement,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';

/** What all statements of an account are built from. */
export interface AccountJournal<Account extends { readonly id: AccountId }> {
  readonly account: Account;
  readonly entries: readonly PostedEntry[];
  readonly documents: Documents;
}

export async function readAccountJournals<Account extends { readonly id: AccountId }>(
  tx: TenantTransaction,
  accounts: readonly Account[],
): Promise<readonly AccountJournal<Account>[]> {
  const ids = accounts.map((account) => account.id);
  const entries = await listEntriesOfAccounts(tx, ids);
  const documents = await listDocumentsOfAccounts(tx, ids);
  return accounts.map((account) => ({ account, entries: entries.get(account.id) ?? [], documents }));
}

/** Which statement of an account is meant: of a month, after the one that was issued before, cut at a posting. */
export interface StatementCut {
  readonly month: Month;
  readonly previous: Pick<StatementHead, 'month' | 'posting'> | null;
  readonly posting: bigint;
}

export function statementOf(
  { business, today }: Pick<Scope, 'business' | 'today'>,
  { account, entries, documents }: AccountJournal<{ readonly id: AccountId }>,
  { month, previous, posting }: StatementCut,
): Statement {
  return buildStatement({
    party: account.id,
    month,
    throughSequence: posting,
    previous: previous && { month: previous.month, throughSequence: previous.posting },
    entries,
    documents,
    basis: business.agingBasis,
    asOf: toldUpTo(entries, month, today),
  });
}

/**
 * A month that still runs is told up to today: nothing is overdue on a day that has not come. What is posted counts
 * whatever day it bears, so a clock that was set back leaves nothing out.
 */
function toldUpTo(entries: readonly PostedEntry[], month: Month, today: Day): Day {
  const last = lastDay(month);
  if (today >= last) return last;
  const days = entries.map((entry) => entry.occurredOn).filter((on) => on <= last);
  return [today, ...days].toSorted().at(-1) ?? today;
}

/** What was issued around a month: itself, the last one before and the first one after. */
export interface MonthStanding {
  readonly issued: StatementHead | null;
  readonly previous: StatementHead | null;
  readonly next: StatementHead | null;
}

/** `heads` are those of one account, earliest first. */
export function standingOf(heads: readonly StatementHead[], month: Month): MonthStanding {
  return {
    issued: heads.find((head) => head.month === month) ?? null,
    previous: heads.findLast((head) => head.month < month) ?? null,
    next: heads.find((head) => head.month > month) ?? null,
  };
}
