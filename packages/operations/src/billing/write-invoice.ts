import {
  findAccountAndVisit,
  findInvoice,
  findInvoiceNumbersOf,
  insertInvoice,
  listFeesCharged,
  listInvoicedVehicles,
  listInvoiceLines,
  listWorkOrdersOf,
  lockPurchaseOrdersOf,
  lockVisitsOf,
  takeNumber,
  type WorkOrderRow,
} from '@grainwright/db';
import {
  type Day,
  formatMinor,
  type InvoiceId,
  invoiceIssued,
  ok,
  type Result,
  refuse,
  transition,
  type WorkOrderId,
} from '@grainwright/domain';
import { record, type Scope } from '../perform.ts';
import { advance } from '../work-order-path.ts';
import { workOrdersOf } from './billable-work.ts';
import { type ComputedInvoice, computeInvoice, dayOfIssue } from './compute-invoice.ts';
import { type DocumentParts, invoiceDocument, invoicePosting } from './invoice-document.ts';
import { type InvoiceView, invoiceViewOf } from './invoice-view.ts';
import { postEntries } from './post-entries.ts';
import { lockDeposits, takeDeposits } from './take-deposits.ts';

export interface InvoiceToWrite {
  readonly invoiceId: InvoiceId;
  readonly workOrderIds: readonly WorkOrderId[];
  /** Null: today. */
  readonly issuedOn: Day | null;
  /** Why it was issued without anybody asking for it; null where somebody did. */
  readonly byRule: 'at_once' | 'run' | null;
}

/**
 * Issues an invoice of accepted work orders and of vehicles that were not there, all of one visit, or of any visits of
 * an account that is invoiced by the month. Refuses with `already_invoiced`, `wrong_state`, `number_missing`,
 * `over_purchase_order`, `dates_out_of_order`, `nothing_approved`, `invalid_date`, `month_closed`, `id_reused`.
 */
export async function writeInvoice(scope: Scope, wanted: InvoiceToWrite): Promise<Result<InvoiceView>> {
  await lockWhatItTakes(scope, wanted);
  const chosen = await lockChosen(scope, wanted.workOrderIds);
  if (!chosen.ok) return chosen;
  const before = await issuedBefore(scope, wanted, chosen.value);
  if (before !== null) return before;
  await lockOrdersOf(scope, chosen.value);
  const computed = await computedOf(scope, chosen.value, wanted.issuedOn);
  if (!computed.ok) return computed;
  const worked = new Set(workOrdersOf(computed.value.work).map(({ id }) => id));
  for (const workOrder of chosen.value.filter(({ id }) => worked.has(id))) {
    const advanced = await advance(scope, workOrder, { type: 'invoiced' });
    if (!advanced.ok) return advanced;
  }
  return write(scope, { ...computed.value, id: wanted.invoiceId }, wanted.byRule);
}

/** Deposits are locked before work orders, as whoever applies or gives one back does. */
async function lockWhatItTakes(scope: Scope, { workOrderIds, issuedOn }: InvoiceToWrite): Promise<void> {
  const where = await findAccountAndVisit(scope.tx, workOrderIds);
  if (where === null) return;
  await lockDeposits(scope, { accountId: where.accountId, workOrderIds, on: issuedOn ?? scope.today });
}

/** The work orders to invoice, with the others of their visits locked until the transaction ends. */
async function lockChosen(
  { tx }: Scope,
  workOrderIds: readonly WorkOrderId[],
): Promise<Result<readonly WorkOrderRow[]>> {
  const ids = new Set(workOrderIds);
  return allThere(
    ids,
    (await lockVisitsOf(tx, [...ids])).filter((workOrder) => ids.has(workOrder.id)),
  );
}

/** As `lockChosen`, for whoever only looks. */
export async function chosenOf(
  { tx }: Scope,
  workOrderIds: readonly WorkOrderId[],
): Promise<Result<readonly WorkOrderRow[]>> {
  const ids = new Set(workOrderIds);
  return allThere(ids, await listWorkOrdersOf(tx, [...ids]));
}

function allThere(
  ids: ReadonlySet<WorkOrderId>,
  chosen: readonly WorkOrderRow[],
): Result<readonly WorkOrderRow[]> {
  if (ids.size === 0) return refuse('invalid_input', 'Choose what to invoice.', 'work_order_ids');
  return chosen.length === ids.size ? ok(chosen) : refuse('not_found', 'There is no such work order.');
}

async function lockOrdersOf({ tx }: Scope, chosen: readonly WorkOrderRow[]): Promise<void> {
  const [first] = chosen;
  const numbers = new Set(chosen.map((workOrder) => workOrder.poNumber).filter((number) => number !== ''));
  if (first !== undefined) await lockPurchaseOrdersOf(tx, first.accountId, [...numbers]);
}

/** The invoice of work orders, and the day it would bear; refuses what can't be invoiced. */
export async function computedOf(
  scope: Scope,
  chosen: readonly WorkOrderRow[],
  asked: Day | null,
): Promise<Result<ComputedInvoice & { readonly issuedOn: Day }>> {
  const free = await allToBeInvoiced(scope, chosen);
  if (!free.ok) return free;
  const computed = await computeInvoice(scope, chosen);
  if (!computed.ok) return computed;
  const { work } = computed.value;
  if (work.visits.length > 1 && work.account.invoiceRule !== 'monthly')
    return refuse(
      'invalid_input',
      'This account gets an invoice for each visit. Choose only work orders of the same visit.',
      'work_order_ids',
    );
  const issuedOn = await dayOfIssue(scope, work, asked);
  return issuedOn.ok ? ok({ ...computed.value, issuedOn: issuedOn.value }) : issuedOn;
}

/** The invoice that has this id already, if it holds the same work orders; a problem if it holds others. */
async function issuedBefore(
  scope: Scope,
  { invoiceId, issuedOn }: InvoiceToWrite,
  chosen: readonly WorkOrderRow[],
): Promise<Result<InvoiceView> | null> {
  const found = await findInvoice(scope.tx, invoiceId);
  if (found === null) return null;
  const vehicles = await listInvoicedVehicles(scope.tx, invoiceId);
  const lines = await listInvoiceLines(scope.tx, invoiceId);
  const fees = lines.filter((line) => line.kind === 'fee').flatMap((line) => line.workOrderId ?? []);
  const held = new Set([...vehicles.map((vehicle) => vehicle.workOrderId), ...fees]);
  const same = held.size === chosen.length && chosen.every((workOrder) => held.has(workOrder.id));
  if (same && (issuedOn === null || issuedOn === found.issuedOn))
    return ok(await invoiceViewOf(scope, found));
  return refuse('id_reused', `That id is ${found.number} already, with other content.`, 'id');
}

async function allToBeInvoiced({ tx }: Scope, chosen: readonly WorkOrderRow[]): Promise<Result<true>> {
  const [first] = chosen;
  if (chosen.some((workOrder) => workOrder.accountId !== first?.accountId))
    return refuse('invalid_input', 'An invoice is for one account. Choose only its work.', 'work_order_ids');
  const ids = chosen.map((workOrder) => workOrder.id);
  const [held] = [...(await findInvoiceNumbersOf(tx, ids)), ...(await listFeesCharged(tx, ids))];
  if (held !== undefined) {
    const number = chosen.find((workOrder) => workOrder.id === held.workOrderId)?.number;
    return refuse('already_invoiced', `WO-${number} is on invoice ${held.number} already.`);
  }
  for (const workOrder of chosen.filter((each) => each.noShowFeeMinor === null)) {
    const next = transition(workOrder.state, { type: 'invoiced' });
    if (!next.ok) return next;
  }
  return ok(true);
}

async function write(
  scope: Scope,
  parts: Omit<DocumentParts, 'sequence'>,
  byRule: InvoiceToWrite['byRule'],
): Promise<Result<InvoiceView>> {
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
    { number, total: formatMinor(totalMinor, currency), currency, by_rule: byRule },
  );
  const { accountId, issuedOn } = document.invoice;
  const taken = await takeDeposits(scope, {
    accountId,
    workOrderIds: document.workOrders.map(({ workOrderId }) => workOrderId),
    on: issuedOn,
    invoice: { id, accountId, number, issuedOn, openMinor: totalMinor },
  });
  if (!taken.ok) return taken;
  const entries = [invoiceIssued(invoicePosting(numbered)), ...taken.value.entries];
  const posted = await postEntries(scope, entries, 'issued_on');
  if (!posted.ok) return posted;
  const found = await findInvoice(tx, id);
  if (found === null) throw new Error('the invoice just written is not there');
  return ok(await invoiceViewOf(scope, found));
}
