import { findAccount, findAccountAndVisit } from '@grainwright/db';
import {
  type InvoiceId,
  ok,
  type Result,
  toId,
  type WorkOrderId,
  type WorkOrderState,
} from '@grainwright/domain';
import { type Actor, performAsStaff, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import type { InvoiceView } from './invoice-view.ts';
import { invoicesToIssue } from './invoices-to-issue.ts';
import { writeInvoice } from './write-invoice.ts';

/**
 * The last step of whatever staff did to a work order: where its account is invoiced at once and nothing is missing any
 * more, its visit's invoice is issued, by the account's rule and not by the person's right. In a transaction of its
 * own: what was done before stands whatever becomes of the invoice. What is not issued, whatever was in the way, is listed
 * among what waits for an invoice; whoever issues it there is told the reason. Answers what was done.
 */
export async function thenInvoiceAtOnce<T>(
  services: Services,
  actor: Actor,
  workOrderId: WorkOrderId,
  done: Result<T>,
): Promise<Result<T>> {
  if (done.ok) await issueAtOnce(services, actor, workOrderId);
  return done;
}

/** As `thenInvoiceAtOnce`, where the answer says in which state the work order is then. */
export async function acceptedThenInvoiced<T extends { readonly state: WorkOrderState }>(
  services: Services,
  actor: Actor,
  workOrderId: WorkOrderId,
  done: Result<T>,
): Promise<Result<T>> {
  if (!done.ok || done.value.state !== 'accepted') return done;
  const invoice = await issueAtOnce(services, actor, workOrderId);
  if (invoice === null) return done;
  return ok({ ...done.value, state: invoice.openMinor === 0n ? 'paid' : 'invoiced' });
}

async function issueAtOnce(
  services: Services,
  actor: Actor,
  workOrderId: WorkOrderId,
): Promise<InvoiceView | null> {
  if (actor.accountId !== null) return null;
  try {
    // Whatever was done before on a phone without signal, the invoice is made here and now.
    const here = { ...actor, madeAt: undefined };
    const issued = await performAsStaff(services, here, 'see_work_orders', (scope) =>
      issueOf(scope, workOrderId),
    );
    return issued.ok ? issued.value : null;
  } catch {
    // What was done is committed: an answer of failure would have it done again. The work waits in the list of what
    // is to be invoiced, and issuing it there meets and reports the same fault.
    return null;
  }
}

async function issueOf(scope: Scope, workOrderId: WorkOrderId): Promise<Result<InvoiceView | null>> {
  const where = await findAccountAndVisit(scope.tx, [workOrderId]);
  const account = where === null ? null : await findAccount(scope.tx, where.accountId);
  if (where === null || account?.invoiceRule !== 'at_once') return ok(null);
  const found = await invoicesToIssue(scope, {
    accountIds: [account.id],
    visitId: where.visitId,
    through: scope.today,
    after: null,
    limit: vehiclesMax,
  });
  const ready = found.find((invoice) => invoice.waits === null);
  if (ready === undefined) return ok(null);
  return writeInvoice(scope, {
    invoiceId: toId<InvoiceId>(scope.newId()),
    workOrderIds: ready.workOrders.map((workOrder) => workOrder.id),
    issuedOn: null,
    byRule: 'at_once',
  });
}

const vehiclesMax = 500;
