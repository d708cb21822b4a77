import {
  type LockedInvoice,
  lockWorkOrdersOfInvoices,
  raiseInvoiceBalance,
  reduceInvoiceBalance,
} from '@grainwright/db';
import {
  applyPayment,
  type Day,
  type InvoiceId,
  ok,
  type Result,
  sumMinor,
  type WorkOrderEvent,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { advance } from '../work-order-path.ts';

/** A part of money or credit that is to settle an invoice locked already. `field` is where a refusal belongs. */
export interface PartToSettle {
  readonly invoice: LockedInvoice;
  readonly amountMinor: bigint;
  readonly field: string;
}

/** What settles: how much of it is left, under lock, and the day it was there. */
export interface SettlingCredit {
  readonly unappliedMinor: bigint;
  readonly currency: string;
  readonly receivedOn: Day;
}

/**
 * Takes the parts off what is open of their invoices, and the work orders of those that are settled to paid, unless
 * `event` says otherwise. The caller takes the sum off what settled them. Refuses with `over_payment` what is more than is open or left; the
 * balances' own guards refuse it again, whatever was read before.
 */
export async function settleInvoices(
  scope: Scope,
  credit: SettlingCredit,
  parts: readonly PartToSettle[],
  on: Day,
  event: WorkOrderEvent = { type: 'settled' },
): Promise<Result<bigint>> {
  let { unappliedMinor } = credit;
  const settled: InvoiceId[] = [];
  for (const { invoice, amountMinor, field } of parts) {
    const applied = applyPayment({
      invoiceNumber: invoice.number,
      invoiceOpenMinor: invoice.openMinor,
      unappliedMinor,
      amountMinor,
      currency: credit.currency,
      on,
      invoicePostedOn: invoice.issuedOn,
      receivedOn: credit.receivedOn,
    });
    if (!applied.ok) return { ok: false, problem: { ...applied.problem, field } };
    const openMinor = await reduceInvoiceBalance(scope.tx, invoice.id, amountMinor);
    if (openMinor === null) throw new Error('less is open than was locked');
    unappliedMinor = applied.value.unappliedMinor;
    if (applied.value.settled) settled.push(invoice.id);
  }
  const advanced = await advanceWorkOf(scope, settled, event);
  return advanced.ok ? ok(sumMinor(parts.map((part) => part.amountMinor))) : advanced;
}

/**
 * Gives back to invoices, locked already, what had settled a part of them, and takes the work orders of those that
 * were settled whole back to invoiced.
 */
export async function reopenInvoices(
  scope: Scope,
  parts: readonly { readonly invoice: LockedInvoice; readonly amountMinor: bigint }[],
  event: WorkOrderEvent = { type: 'payment_came_back' },
): Promise<Result<true>> {
  for (const { invoice, amountMinor } of parts) await raiseInvoiceBalance(scope.tx, invoice.id, amountMinor);
  const reopened = parts.filter(({ invoice }) => invoice.openMinor === 0n).map(({ invoice }) => invoice.id);
  return advanceWorkOf(scope, [...new Set(reopened)], event);
}

/** Takes every work order of the invoices one step along its path. */
export async function advanceWorkOf(
  scope: Scope,
  invoices: readonly InvoiceId[],
  event: WorkOrderEvent,
): Promise<Result<true>> {
  if (invoices.length === 0) return ok(true);
  for (const workOrder of await lockWorkOrdersOfInvoices(scope.tx, invoices)) {
    const advanced = await advance(scope, workOrder, event);
    if (!advanced.ok) return advanced;
  }
  return ok(true);
}
