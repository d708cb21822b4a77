import {
  findAccountAndVisit,
  findAccountName,
  listAskedWorkOrders,
  listPurchaseOrderRows,
} from '@grainwright/db';
import {
  type AnswerRight,
  furthestRight,
  ok,
  type PersonId,
  type Result,
  refuse,
  type WorkOrderId,
} from '@grainwright/domain';
import type { OpenedLink } from '../links/open-link.ts';
import { performAsContact, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { loadWorkOrder } from '../work-orders/load-work-order.ts';
import { purchaseOrderView } from '../work-orders/purchase-order-view.ts';
import { whyTakenAgain } from '../work-orders/taken-again.ts';
import type { PurchaseOrderView, WorkOrderView } from '../work-orders/work-order-view.ts';

/** A link that a contact answers by. */
export type ApprovalLink = Extract<OpenedLink, { purpose: 'approval' }>;

/** All that a contact’s link opens: the work orders of one visit that they were asked about, and who they are. */
export interface AskedVisit {
  readonly person: { readonly id: PersonId; readonly name: string };
  /** How far they may answer just now, and in whose place; null: not at all. */
  readonly right: AnswerRight | null;
  readonly accountName: string;
  readonly business: { readonly name: string; readonly phone: string; readonly timeZone: string };
  readonly today: Scope['today'];
  /** By number; also those that are answered by now. */
  readonly workOrders: readonly WorkOrderView[];
  /** The account’s orders that count today, of which one may have to be named. */
  readonly purchaseOrders: readonly PurchaseOrderView[];
}

/** Reads what a link opens; changes nothing. */
export async function readAskedVisit(services: Services, link: ApprovalLink): Promise<Result<AskedVisit>> {
  const visit = await readVisit(services, link);
  if (!visit.ok) return visit;
  const workOrders: WorkOrderView[] = [];
  for (const view of visit.value.workOrders)
    workOrders.push(await whyTakenAgain(services, link.actor.tenantId, view));
  return ok({ ...visit.value, workOrders });
}

function readVisit(services: Services, link: ApprovalLink): Promise<Result<AskedVisit>> {
  return performAsContact(services, link.actor, 'see_work_orders', async (scope) => {
    const { tx, member, business, today } = scope;
    const workOrders: WorkOrderView[] = [];
    for (const id of await askedIds(scope, link)) {
      const view = await loadWorkOrder(scope, id);
      if (!view.ok) return view;
      workOrders.push(view.value);
    }
    return ok({
      person: { id: member.personId, name: member.name },
      right: furthestRight(member),
      accountName: (await findAccountName(tx, member.accountId)) ?? '',
      business: { name: business.name, phone: business.phone, timeZone: business.timeZone },
      today,
      workOrders,
      purchaseOrders: (await listPurchaseOrderRows(tx, member.accountId))
        .map((row) => purchaseOrderView(row, today))
        .filter(({ standing }) => standing === 'valid'),
    });
  });
}

/**
 * Whether a link opens this work order: one of its visit that its contact was asked about. Everything else of the
 * account stays closed to it. Refuses with `not_found`.
 */
export function checkAsked(
  services: Services,
  link: ApprovalLink,
  workOrderId: WorkOrderId,
): Promise<Result<WorkOrderId>> {
  return performAsContact(services, link.actor, 'see_work_orders', async (scope) =>
    (await askedIds(scope, link)).includes(workOrderId)
      ? ok(workOrderId)
      : refuse('not_found', 'This link does not open that work order.'),
  );
}

/** The work orders of its visit that a link opens. */
export async function askedIds(
  { tx, member }: Scope,
  { workOrderId }: ApprovalLink,
): Promise<readonly WorkOrderId[]> {
  const found = await findAccountAndVisit(tx, [workOrderId]);
  if (found === null) throw new Error('a link is about a work order that is not there');
  const asked = await listAskedWorkOrders(tx, { visitId: found.visitId, personId: member.personId });
  // Who wrote about one may not have been asked about it: their link opens it all the same.
  return asked.includes(workOrderId) ? asked : [workOrderId, ...asked];
}
