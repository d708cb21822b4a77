import { findAccountName, listDisputes as listDisputeRows } from '@grainwright/db';
import { type AccountId, type DisputeId, ok, type Result, refuse } from '@grainwright/domain';
import { type Actor, perform } from '../perform.ts';
import type { Services } from '../services.ts';
import { type DisputeView, disputeView } from './dispute-view.ts';

export interface ListDisputesInput {
  /** Null: of every account. A contact sees the own account's whatever stands here. */
  readonly accountId: AccountId | null;
  /** Only those without an answer, on invoices that stand. */
  readonly waitingOnly: boolean;
  /** The one that the page before ended with; null for the first page. */
  readonly past: DisputeId | null;
}

export interface DisputeList {
  readonly accountName: string | null;
  readonly rows: readonly DisputeView[];
  /** Where the next page goes on; null when this is the last. */
  readonly next: DisputeId | null;
}

const rowsOfAPage = 100;

/** Disputes, the longest open first. */
export function listDisputes(
  services: Services,
  actor: Actor,
  input: ListDisputesInput,
): Promise<Result<DisputeList>> {
  return perform(services, actor, 'see_invoices', async (scope) => {
    const { tx } = scope;
    const accountId = actor.accountId ?? input.accountId;
    const accountName = accountId === null ? null : await findAccountName(tx, accountId);
    if (accountId !== null && accountName === null) return refuse('not_found', 'There is no such account.');
    const { waitingOnly, past } = input;
    const found = await listDisputeRows(tx, { accountId, waitingOnly, past, limit: rowsOfAPage + 1 });
    const rows = found.slice(0, rowsOfAPage).map((row) => disputeView(scope, row));
    const next = found.length > rowsOfAPage ? (rows.at(-1)?.id ?? null) : null;
    return ok({ accountName, rows, next });
  });
}
