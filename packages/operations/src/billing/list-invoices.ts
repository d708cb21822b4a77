import { findAccountName, type InvoiceStanding, listInvoices as listInvoiceRows } from '@grainwright/db';
import { type AccountId, type InvoiceId, ok, type Result, refuse } from '@grainwright/domain';
import { type Actor, perform } from '../perform.ts';
import type { Services } from '../services.ts';
import { type InvoiceRowView, invoiceRowView } from './invoice-view.ts';

export interface ListInvoicesInput {
  /** Null: of every account. A contact sees the own account's whatever stands here. */
  readonly accountId: AccountId | null;
  readonly openOnly: boolean;
  /** Only those that stand so; left out: all. */
  readonly standing?: InvoiceStanding | undefined;
  /** The invoice that the page before ended with; null for the first page. */
  readonly past: InvoiceId | null;
  /** As they are paid. */
  readonly oldestFirst?: boolean;
}

export interface InvoiceList {
  readonly accountName: string | null;
  readonly rows: readonly InvoiceRowView[];
  /** Where the next page goes on; null when this is the last. */
  readonly next: InvoiceId | null;
}

const rowsOfAPage = 100;

/** Invoices, newest first unless asked otherwise. */
export function listInvoices(
  services: Services,
  actor: Actor,
  input: ListInvoicesInput,
): Promise<Result<InvoiceList>> {
  return perform(services, actor, 'see_invoices', async (scope) => {
    const accountId = actor.accountId ?? input.accountId;
    const accountName = accountId === null ? null : await findAccountName(scope.tx, accountId);
    if (accountId !== null && accountName === null) return refuse('not_found', 'There is no such account.');
    const found = await listInvoiceRows(scope.tx, {
      ...input,
      accountId,
      standing: input.standing,
      oldestFirst: input.oldestFirst ?? false,
      limit: rowsOfAPage + 1,
    });
    const rows = found.slice(0, rowsOfAPage).map((row) => invoiceRowView(scope, row));
    const next = found.length > rowsOfAPage ? (rows.at(-1)?.id ?? null) : null;
    return ok({ accountName, rows, next });
  });
}
