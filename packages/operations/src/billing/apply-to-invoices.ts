import {
  type FoundPayment,
  insertApplications,
  type LockedInvoice,
  lockPaymentBalance,
  lockWorkOrdersOfInvoices,
  reduceInvoiceBalance,
  reducePaymentBalance,
} from '@grainwright/db';
import {
  type ApplicationId,
  applyPayment,
  type Day,
  type InvoiceId,
  type JournalEntry,
  ok,
  paymentApplied,
  type Result,
  refuse,
  sumMinor,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { advance } from '../work-order-path.ts';

/** A part of a payment that is to settle an invoice. `field` is where a refusal belongs. */
export interface WantedPart {
  readonly id: ApplicationId;
  readonly invoice: LockedInvoice;
  readonly amountMinor: bigint;
  readonly field: string;
}

export type MoneyToApply = Pick<FoundPayment, 'id' | 'accountId' | 'currency' | 'receivedOn'>;

/**
 * Applies a payment to invoices that are locked already, and takes the work orders of those that are settled to
 * paid. Answers the entry to post, which the caller does last. Refuses with `over_payment` what is more than is
 * open or unapplied; the balances' own guards refuse it again, whatever was read before.
 */
export async function applyToInvoices(
  scope: Scope,
  payment: MoneyToApply,
  parts: readonly WantedPart[],
  on: Day,
): Promise<Result<JournalEntry>> {
  const { tx } = scope;
  const settled = await settle(scope, payment, parts, on);
  if (!settled.ok) return settled;
  const inserted = await insertApplications(
    tx,
    parts.map((part) => ({
      id: part.id,
      accountId: payment.accountId,
      paymentId: payment.id,
      invoiceId: part.invoice.id,
      amountMinor: part.amountMinor,
      appliedOn: on,
      appliedBy: scope.actor.personId,
      appliedAt: scope.now,
    })),
  );
  if (!inserted) return refuse('id_reused', 'That id is another application already.', 'id');
  for (const workOrder of await lockWorkOrdersOfInvoices(tx, settled.value)) {
    const advanced = await advance(scope, workOrder, { type: 'settled' });
    if (!advanced.ok) return advanced;
  }
  return ok(
    paymentApplied({
      party: payment.accountId,
      on,
      paymentId: payment.id,
      parts: parts.map((part) => ({ invoiceId: part.invoice.id, amountMinor: part.amountMinor })),
    }),
  );
}

/** Takes the amounts off both sides; answers the invoices of which nothing is open any more. */
async function settle(
  { tx }: Scope,
  payment: MoneyToApply,
  parts: readonly WantedPart[],
  on: Day,
): Promise<Result<readonly InvoiceId[]>> {
  let unappliedMinor = await lockPaymentBalance(tx, payment.id);
  const settled: InvoiceId[] = [];
  for (const { invoice, amountMinor, field } of parts) {
    const applied = applyPayment({
      invoiceNumber: invoice.number,
      invoiceOpenMinor: invoice.openMinor,
      unappliedMinor,
      amountMinor,
      currency: payment.currency,
      on,
      invoicePostedOn: invoice.issuedOn,
      receivedOn: payment.receivedOn,
    });
    if (!applied.ok) return { ok: false, problem: { ...applied.problem, field } };
    const openMinor = await reduceInvoiceBalance(tx, invoice.id, amountMinor);
    if (openMinor === null) throw new Error('less is open than was locked');
    unappliedMinor = applied.value.unappliedMinor;
    if (applied.value.settled) settled.push(invoice.id);
  }
  const totalMinor = sumMinor(parts.map((part) => part.amountMinor));
  if ((await reducePaymentBalance(tx, payment.id, totalMinor)) === null)
    throw new Error('less is unapplied than was locked');
  return ok(settled);
}
