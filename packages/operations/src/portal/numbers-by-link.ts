import type { Contact } from '@grainwright/db';
import {
  listPoNumbersOf,
  listPurchaseOrderRows,
  listWorkChasedFrom,
  listWorkOwingNumbers,
} from '@grainwright/db';
import { ok, type Result, refuse, type WorkOrderId } from '@grainwright/domain';
import { type ApprovalLink, askedIds } from '../approvals/read-asked-visit.ts';
import { performAsContact, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { purchaseOrderView } from '../work-orders/purchase-order-view.ts';
import type { PurchaseOrderView } from '../work-orders/work-order-view.ts';
import { numbersNeed, shortPurchaseOrders } from './list-needs.ts';
import type { NumbersNeed, PurchaseOrderNeed } from './needs-view.ts';

/** What a contact’s link asks numbers for. Amounts are minor units of `currency`. */
export interface NumbersByLink {
  readonly currency: string;
  readonly numbers: readonly NumbersNeed[];
  /** Those named on the link’s work orders that what was approved on them does not fit on. */
  readonly shortOrders: readonly Pick<PurchaseOrderNeed, 'number' | 'leftMinor' | 'shortMinor'>[];
  /** The account’s purchase orders that have not ended, of which one may be named. */
  readonly orders: readonly Pick<PurchaseOrderView, 'number' | 'leftMinor'>[];
}

const rowsMax = 50;

/** Reads which numbers are still wanted of whoever has the link: of what they were asked about, and nothing else. */
export function readNumbersByLink(services: Services, link: ApprovalLink): Promise<Result<NumbersByLink>> {
  return performAsContact(services, link.actor, 'see_work_orders', async (scope) => {
    const { tx, member, business, today } = scope;
    const opened = await openedIds(scope, link);
    const owed = await listWorkOwingNumbers(tx, member.accountId, rowsMax, opened);
    const named = await listPoNumbersOf(tx, opened);
    const orders = (await listPurchaseOrderRows(tx, member.accountId)).map((row) =>
      purchaseOrderView(row, today),
    );
    return ok({
      currency: business.currency,
      numbers: owed.map((row) => numbersNeed(scope, row)),
      shortOrders: (await shortPurchaseOrders(scope))
        .filter(({ number }) => named.has(number))
        .map(({ number, leftMinor, shortMinor }) => ({ number, leftMinor, shortMinor })),
      orders: orders
        .filter(({ standing }) => standing !== 'ended')
        .map(({ number, leftMinor }) => ({ number, leftMinor })),
    });
  });
}

/**
 * Whether numbers of this work order may be given by a link: its contact was asked for them, or about the work itself
 * in the link’s visit. Refuses with `not_found`.
 */
export function checkNumbersAsked(
  services: Services,
  link: ApprovalLink,
  workOrderId: WorkOrderId,
): Promise<Result<WorkOrderId>> {
  return performAsContact(services, link.actor, 'see_work_orders', async (scope) =>
    (await openedIds(scope, link)).includes(workOrderId)
      ? ok(workOrderId)
      : refuse('not_found', 'This link does not open that work order.'),
  );
}

async function openedIds(scope: Scope<Contact>, link: ApprovalLink): Promise<readonly WorkOrderId[]> {
  const { tx, member } = scope;
  const asked = await askedIds(scope, link);
  return [...new Set([...asked, ...(await listWorkChasedFrom(tx, member))])];
}
