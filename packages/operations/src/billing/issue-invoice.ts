import { type InvoiceId, ok, parseDay, type Result, type WorkOrderId } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import type { InvoiceView } from './invoice-view.ts';
import { writeInvoice } from './write-invoice.ts';

export interface IssueInvoiceInput {
  /** Made by the client: the same id with the same work orders again is the same invoice. */
  readonly invoiceId: InvoiceId;
  /**
   * All accepted, or void with a fee for a vehicle that was not there; of one visit, or of any visits of an account
   * that is invoiced by the month.
   */
  readonly workOrderIds: readonly WorkOrderId[];
  /** The day it bears, as text; nothing or empty: today. Not to come, and not before the work was accepted. */
  readonly issuedOn?: string | undefined;
}

/**
 * Issues an invoice at the prices frozen when the work was approved, due by the account's terms. Its number is without
 * gaps: it is taken last, and goes back when anything fails. Refuses with `already_invoiced`, `wrong_state`,
 * `number_missing`, `over_purchase_order`, `dates_out_of_order`, `nothing_approved`, `invalid_date`, `month_closed`,
 * `id_reused`.
 */
export function issueInvoice(
  services: Services,
  actor: Actor,
  input: IssueInvoiceInput,
): Promise<Result<InvoiceView>> {
  return performAsStaff(services, actor, 'issue_invoice', async (scope) => {
    const asked = (input.issuedOn ?? '').trim();
    const issuedOn = asked === '' ? ok(null) : parseDay(asked, 'issued_on');
    if (!issuedOn.ok) return issuedOn;
    const { invoiceId, workOrderIds } = input;
    return writeInvoice(scope, { invoiceId, workOrderIds, issuedOn: issuedOn.value, byRule: null });
  });
}
