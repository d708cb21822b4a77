import { findAccountName, listPurchaseOrderRows } from '@grainwright/db';
import { type AccountId, ok, type Result, refuse } from '@grainwright/domain';
import { type Actor, perform } from '../perform.ts';
import type { Services } from '../services.ts';
import { purchaseOrderView } from '../work-orders/purchase-order-view.ts';
import type { PurchaseOrderView } from '../work-orders/work-order-view.ts';

export interface PurchaseOrderList {
  readonly currency: string;
  readonly orders: readonly PurchaseOrderView[];
}

/** The account's purchase orders with what was invoiced on each and what is left, the newest first. Contacts see their own account's. */
export function listPurchaseOrders(
  services: Services,
  actor: Actor,
  accountId: AccountId,
): Promise<Result<PurchaseOrderList>> {
  return perform(services, actor, 'see_invoices', async ({ tx, today, business }) => {
    if ((await findAccountName(tx, accountId)) === null)
      return refuse('not_found', 'There is no such account.');
    const rows = await listPurchaseOrderRows(tx, accountId);
    return ok({
      currency: business.currency,
      orders: rows.map((row) => purchaseOrderView(row, today)),
    });
  });
}
