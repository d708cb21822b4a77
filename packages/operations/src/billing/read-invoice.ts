import { findInvoice } from '@grainwright/db';
import { type InvoiceId, ok, type Result, refuse } from '@grainwright/domain';
import { type Actor, perform, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { type InvoiceView, invoiceViewOf } from './invoice-view.ts';

/** One invoice; for a contact only of the own account. */
export function readInvoice(services: Services, actor: Actor, id: InvoiceId): Promise<Result<InvoiceView>> {
  return perform(services, actor, 'see_invoices', async (scope) => {
    const found = await findInvoice(scope.tx, id);
    if (found === null || (actor.accountId !== null && found.accountId !== actor.accountId))
      return refuse('not_found', 'There is no such invoice.');
    return ok(await invoiceViewOf(scope, found));
  });
}

/** An invoice as it stands now, for the answer of what was just done to it. */
export async function readInvoiceOf(scope: Scope, id: InvoiceId): Promise<Result<InvoiceView>> {
  const found = await findInvoice(scope.tx, id);
  if (found === null) throw new Error('an invoice that was just there is gone');
  return ok(await invoiceViewOf(scope, found));
}
