import { findAccountName } from '@grainwright/db';
import { type AccountId, ok, type Result, refuse } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { type InvoiceToIssue, invoicesToIssue } from './invoices-to-issue.ts';

export interface ListReadyInput {
  /** Null: of every account. */
  readonly accountId?: AccountId | null;
  /** `next` of the page before. */
  readonly after?: AccountId | null;
}

export interface ReadyList {
  readonly invoices: readonly InvoiceToIssue[];
  /** The account that the next page goes on after; null when this is the last. */
  readonly next: AccountId | null;
}

const workOrdersMax = 300;

/**
 * Everything that waits for an invoice, as the invoices that the accounts' rules make of it, each with what it still
 * waits for; a page holds whole accounts.
 */
export function listReadyToInvoice(
  services: Services,
  actor: Actor,
  input: ListReadyInput = {},
): Promise<Result<ReadyList>> {
  return performAsStaff(services, actor, 'issue_invoice', async (scope) => {
    const { accountId = null, after = null } = input;
    if (accountId !== null && (await findAccountName(scope.tx, accountId)) === null)
      return refuse('not_found', 'There is no such account.');
    const found = await invoicesToIssue(scope, {
      accountIds: accountId === null ? null : [accountId],
      after,
      through: scope.today,
      limit: workOrdersMax + 1,
    });
    const count = found.reduce((sum, invoice) => sum + invoice.workOrders.length, 0);
    return ok(count <= workOrdersMax ? { invoices: found, next: null } : wholeAccounts(found));
  });
}

/** Leaves out the last account, which may be cut off, unless it is the only one. */
function wholeAccounts(found: readonly InvoiceToIssue[]): ReadyList {
  const last = found.at(-1)?.accountId ?? null;
  const whole = found.filter((invoice) => invoice.accountId !== last);
  if (whole.length === 0) return { invoices: found, next: last };
  return { invoices: whole, next: whole.at(-1)?.accountId ?? null };
}
