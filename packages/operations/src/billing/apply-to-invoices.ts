import {
  type FoundPayment,
  insertApplications,
  lockPaymentBalance,
  reducePaymentBalance,
} from '@grainwright/db';
import {
  type ApplicationId,
  type Day,
  depositAppliedToInvoice,
  type JournalEntry,
  ok,
  paymentApplied,
  type Result,
  refuse,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { type PartToSettle, settleInvoices } from './settle-invoices.ts';

/** A part of a payment that is to settle an invoice. */
export interface WantedPart extends PartToSettle {
  readonly id: ApplicationId;
}

export type MoneyToApply = Pick<FoundPayment, 'id' | 'accountId' | 'currency' | 'receivedOn' | 'purpose'>;

/**
 * Applies a payment or deposit to invoices that are locked already, and takes the work orders of those that are
 * settled to paid. Answers the entry to post, which the caller does last. Refuses with `over_payment`. `byRule` where
 * nobody asked for it.
 */
export async function applyToInvoices(
  scope: Scope,
  payment: MoneyToApply,
  parts: readonly WantedPart[],
  on: Day,
  byRule = false,
): Promise<Result<JournalEntry>> {
  const { tx } = scope;
  const { id: paymentId, accountId, currency, receivedOn } = payment;
  const unappliedMinor = await lockPaymentBalance(tx, paymentId);
  const settled = await settleInvoices(scope, { unappliedMinor, currency, receivedOn }, parts, on);
  if (!settled.ok) return settled;
  if ((await reducePaymentBalance(tx, paymentId, settled.value)) === null)
    throw new Error('less is unapplied than was locked');
  const inserted = await insertApplications(
    tx,
    parts.map((part) => ({
      id: part.id,
      accountId,
      paymentId,
      invoiceId: part.invoice.id,
      amountMinor: part.amountMinor,
      appliedOn: on,
      appliedBy: scope.actor.personId,
      appliedAt: scope.now,
      byRule,
    })),
  );
  if (!inserted) return refuse('id_reused', 'That id is another application already.', 'id');
  const application = {
    party: accountId,
    on,
    paymentId,
    parts: parts.map((part) => ({ invoiceId: part.invoice.id, amountMinor: part.amountMinor })),
  };
  return ok(
    payment.purpose === 'deposit' ? depositAppliedToInvoice(application) : paymentApplied(application),
  );
}
