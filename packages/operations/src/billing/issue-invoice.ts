import {
  findInvoice,
  findInvoiceNumbersOf,
  insertInvoice,
  listAcceptancesOf,
  listInvoicedVehicles,
  lockVisitOf,
  takeNumber,
  type WorkOrderRow,
} from '@grainwright/db';
import {
  brokenIdentities,
  buildInvoice,
  demandedNumbers,
  formatMinor,
  type Invoice,
  type InvoiceId,
  invoiceIssued,
  ok,
  type Result,
  readyToInvoice,
  refuse,
  transition,
  type WorkOrderId,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { advance } from '../work-order-path.ts';

import { type BillableVisit, invoiceBasisOf, isRework, loadBillableVisit } from './invoice-basis.ts';
import { type DocumentParts, invoiceDocument, invoicePosting } from './invoice-document.ts';
import { type InvoiceView, invoiceViewOf } from './invoice-view.ts';
import { postEntries } from './post-entries.ts';

export interface IssueInvoiceInput {
  /** Made by the client: the same id with the same work orders again is the same invoice. */
  readonly invoiceId: InvoiceId;
  /** Of one visit, all accepted. */
  readonly workOrderIds: readonly WorkOrderId[];
}

/**
 * Issues the invoice of one or more vehicles of a visit, at the prices frozen when they were approved. Refuses
 * with `already_invoiced`, `wrong_state`, `number_missing`, `nothing_approved`, `id_reused`. Its number is without
 * gaps: it is taken last, and goes back when anything fails.
 */
export function issueInvoice(
  services: Services,
  actor: Actor,
  input: IssueInvoiceInput,
): Promise<Result<InvoiceView>> {
  return performAsStaff(services, actor, 'issue_invoice', async (scope) => {
    const chosen = await lockChosen(scope, [...new Set(input.workOrderIds)]);
    if (!chosen.ok) return chosen;
    const ids = chosen.value.map((workOrder) => workOrder.id);
    const before = await issuedBefore(scope, input.invoiceId, ids);
    if (before !== null) return before;
    const free = await allToBeInvoiced(scope, chosen.value);
    if (!free.ok) return free;
    const parts = await computed(scope, input.invoiceId, chosen.value);
    if (!parts.ok) return parts;
    for (const workOrder of chosen.value) {
      const advanced = await advance(scope, workOrder, { type: 'invoiced' });
      if (!advanced.ok) return advanced;
    }
    return write(scope, parts.value);
  });
}

async function lockChosen(
  { tx }: Scope,
  ids: readonly WorkOrderId[],
): Promise<Result<readonly WorkOrderRow[]>> {
  const [first] = ids;
  if (first === undefined) return refuse('invalid_input', 'Choose what to invoice.', 'work_order_ids');
  const ofVisit = await lockVisitOf(tx, first);
  if (ofVisit.length === 0) return refuse('not_found', 'There is no such work order.');
  const chosen = ofVisit.filter((workOrder) => ids.includes(workOrder.id));
  if (chosen.length === ids.length) return ok(chosen);
  return refuse(
    'invalid_input',
    'An invoice holds work orders of one visit. Choose only those of the same visit.',
    'work_order_ids',
  );
}

/** The invoice that has this id already, if it holds the same work orders; a problem if it holds others. */
async function issuedBefore(
  scope: Scope,
  id: InvoiceId,
  workOrderIds: readonly WorkOrderId[],
): Promise<Result<InvoiceView> | null> {
  const found = await findInvoice(scope.tx, id);
  if (found === null) return null;
  const held = new Set((await listInvoicedVehicles(scope.tx, id)).map((vehicle) => vehicle.workOrderId));
  if (held.size === workOrderIds.length && workOrderIds.every((each) => held.has(each)))
    return ok(await invoiceViewOf(scope, found));
  return refuse('id_reused', `That id is ${found.number} already, with other work orders.`, 'id');
}

async function allToBeInvoiced({ tx }: Scope, chosen: readonly WorkOrderRow[]): Promise<Result<true>> {
  const [held] = await findInvoiceNumbersOf(
    tx,
    chosen.map((workOrder) => workOrder.id),
  );
  if (held !== undefined) {
    const number = chosen.find((workOrder) => workOrder.id === held.workOrderId)?.number;
    return refuse('already_invoiced', `Work order ${number} is on invoice ${held.number} already.`);
  }
  for (const workOrder of chosen) {
    const next = transition(workOrder.state, { type: 'invoiced' });
    if (!next.ok) return next;
  }
  return ok(true);
}

async function computed(
  scope: Scope,
  id: InvoiceId,
  chosen: readonly WorkOrderRow[],
): Promise<Result<Omit<DocumentParts, 'sequence'>>> {
  const [first] = chosen;
  if (first === undefined) throw new Error('an invoice without work orders');
  const ids = chosen.map((workOrder) => workOrder.id);
  const billable = await loadBillableVisit(scope, first.visitId, ids);
  const basis = await invoiceBasisOf(scope, billable);
  const invoice = buildInvoice(basis);
  const ready = readyVisit(billable, invoice);
  if (!ready.ok) return ready;
  const broken = brokenIdentities(invoice, basis.taxRounding);
  if (broken.length > 0) throw new Error(`the invoice does not add up: ${broken.join('; ')}`);
  const signed = await listAcceptancesOf(scope.tx, ids);
  const acceptances = new Map(signed.map((each) => [each.workOrderId, each.id]));
  return ok({ id, billable, basis, invoice, acceptances });
}

function readyVisit({ account, workOrders }: BillableVisit, invoice: Invoice): Result<true> {
  for (const workOrder of workOrders) {
    const ready = readyToInvoice({
      reworkWithoutCharge: isRework(workOrder),
      ...demandedNumbers(account, workOrder),
      purchaseOrderLeftMinor: null,
      totalMinor: invoice.totals.withTaxMinor,
    });
    if (!ready.ok) return ready;
  }
  if (invoice.totals.withTaxMinor > 0n) return ok(true);
  return refuse('nothing_approved', 'There is nothing to charge on this invoice.');
}

async function write(scope: Scope, parts: Omit<DocumentParts, 'sequence'>): Promise<Result<InvoiceView>> {
  const { tx } = scope;
  const numbered = { ...parts, sequence: await takeNumber(tx, 'invoice') };
  const document = invoiceDocument(scope, numbered);
  if (!(await insertInvoice(tx, document)))
    return refuse('id_reused', 'That id is another invoice already.', 'id');
  const { id, number, totalMinor, currency } = document.invoice;
  await record(
    scope,
    'invoice_issued',
    { kind: 'invoice', id },
    { number, total: formatMinor(totalMinor, currency), currency },
  );
  const posted = await postEntries(scope, [invoiceIssued(invoicePosting(scope, numbered))]);
  if (!posted.ok) return posted;
  const found = await findInvoice(tx, id);
  if (found === null) throw new Error('the invoice just written is not there');
  return ok(await invoiceViewOf(scope, found));
}
