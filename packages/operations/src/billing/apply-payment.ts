import { findApplication, findPayment, holdPayments, lockInvoiceBalances } from '@grainwright/db';
import {
  type ApplicationId,
  formatMinor,
  type InvoiceId,
  ok,
  type PaymentId,
  parseMoney,
  type Result,
  refuse,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { applyToInvoices } from './apply-to-invoices.ts';
import { type PaymentView, paymentViewOf } from './payment-view.ts';
import { postEntries } from './post-entries.ts';

export interface ApplyPaymentInput {
  /** Made by the client: the same id with the same content again is the same application. */
  readonly applicationId: ApplicationId;
  readonly paymentId: PaymentId;
  readonly invoiceId: InvoiceId;
  readonly amount: string;
}

/**
 * Applies a part of a payment to an invoice of the same account, on the day it is done. Refuses with
 * `over_payment` what is more than is open of the invoice or unapplied of the payment, and says how much is.
 */
export function applyPayment(
  services: Services,
  actor: Actor,
  input: ApplyPaymentInput,
): Promise<Result<PaymentView>> {
  return performAsStaff(services, actor, 'record_payment', async (scope) => {
    const { tx, today } = scope;
    const { applicationId, paymentId, invoiceId } = input;
    await holdPayments(tx, [paymentId]);
    const payment = await findPayment(tx, paymentId);
    if (payment === null) return refuse('not_found', 'There is no such payment.');
    const amount = parseMoney(input.amount, { currency: payment.currency, field: 'amount' });
    if (!amount.ok) return amount;
    const amountMinor = amount.value;
    const [invoice] = await lockInvoiceBalances(tx, payment.accountId, [invoiceId]);
    if (invoice === undefined)
      return refuse('not_found', `${payment.accountName} has no such invoice.`, 'invoice_id');
    const before = await findApplication(tx, applicationId);
    if (before !== null)
      return sameContent(before, { paymentId, invoiceId, amountMinor })
        ? ok(await paymentViewOf(scope, paymentId))
        : refuse('id_reused', 'That id is another application already.', 'id');
    const part = { id: applicationId, invoice, amountMinor, field: 'amount' };
    const entry = await applyToInvoices(scope, payment, [part], today);
    if (!entry.ok) return entry;
    await record(
      scope,
      'payment_applied',
      { kind: 'payment', id: paymentId },
      { invoice: invoice.number, amount: formatMinor(amountMinor, payment.currency) },
    );
    const posted = await postEntries(scope, [entry.value]);
    if (!posted.ok) return posted;
    return ok(await paymentViewOf(scope, paymentId));
  });
}
