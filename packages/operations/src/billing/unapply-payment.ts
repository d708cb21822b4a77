import {
  type FoundApplication,
  type FoundPayment,
  findApplication,
  findPayment,
  findUnapplication,
  holdPayments,
  insertUnapplications,
  lockInvoiceBalances,
  lockPaymentBalance,
  raisePaymentBalance,
  type UnapplicationRow,
} from '@grainwright/db';
import {
  type ApplicationId,
  dayWords,
  depositUnapplied,
  formatMinor,
  ok,
  type PaymentId,
  paymentUnapplied,
  type Result,
  refuse,
  type UnapplicationId,
} from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { readWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { type PaymentView, paymentViewOf } from './payment-view.ts';
import { postEntries } from './post-entries.ts';
import { meansDay, readDayAfter } from './receipt-input.ts';
import { reopenInvoices } from './settle-invoices.ts';

export interface UnapplyPaymentInput {
  /** Made by the client: the same id with the same content again is the same. */
  readonly unapplicationId: UnapplicationId;
  readonly paymentId: PaymentId;
  readonly applicationId: ApplicationId;
  readonly reason: string;
  /** Null: today. */
  readonly on: string | null;
}

/**
 * Takes one application of a payment or deposit back: that much of the invoice is open again, with its first due date,
 * and is credit of the account, or a deposit held, as before. Refuses with `wrong_state` what was taken back already.
 */
export function unapplyPayment(
  services: Services,
  actor: Actor,
  input: UnapplyPaymentInput,
): Promise<Result<PaymentView>> {
  return performAsStaff(services, actor, 'record_payment', async (scope) => {
    const { tx } = scope;
    await holdPayments(tx, [input.paymentId]);
    const payment = await findPayment(tx, input.paymentId);
    const application = await findApplication(tx, input.applicationId);
    if (payment === null || application === null || application.paymentId !== payment.id)
      return refuse('not_found', 'There is no such application of a payment.');
    const wanted = wantedRow(scope, application, input);
    if (!wanted.ok) return wanted;
    const before = await takenBackBefore(scope, payment, application, { ...wanted.value, on: input.on });
    if (before !== null) return before;
    const reopened = await reopen(scope, payment, application, wanted.value);
    if (!reopened.ok) return reopened;
    const { invoiceId, amountMinor } = application;
    const taken = {
      party: payment.accountId,
      on: wanted.value.unappliedOn,
      paymentId: payment.id,
      parts: [{ invoiceId, amountMinor }],
    };
    const entry = payment.purpose === 'deposit' ? depositUnapplied(taken) : paymentUnapplied(taken);
    const posted = await postEntries(scope, [entry], 'on');
    return posted.ok ? ok(await paymentViewOf(scope, payment.id)) : posted;
  });
}

function wantedRow(
  scope: Scope,
  application: FoundApplication,
  input: UnapplyPaymentInput,
): Result<UnapplicationRow> {
  const since = { day: application.appliedOn, words: 'It was applied on' };
  const read = everyResult({
    reason: readWords(input.reason, 'reason', 'why it is taken back', 500),
    unappliedOn: readDayAfter(scope, input.on, 'on', since),
  });
  if (!read.ok) return read;
  return ok({
    id: input.unapplicationId,
    applicationId: application.id,
    returnId: null,
    ...read.value,
    unappliedBy: scope.actor.personId,
    unappliedAt: scope.now,
  });
}

async function takenBackBefore(
  scope: Scope,
  payment: FoundPayment,
  { invoiceNumber, unappliedOn }: FoundApplication,
  wanted: UnapplicationRow & Pick<UnapplyPaymentInput, 'on'>,
): Promise<Result<PaymentView> | null> {
  const found = await findUnapplication(scope.tx, wanted.id);
  const { applicationId, reason } = wanted;
  if (found !== null)
    return sameContent(found, { applicationId, reason }) &&
      meansDay(wanted.on, wanted.unappliedOn, found.unappliedOn)
      ? ok(await paymentViewOf(scope, payment.id))
      : refuse('id_reused', 'That id was used for something else already.', 'id');
  if (unappliedOn === null) return null;
  return refuse('wrong_state', `It was taken off ${invoiceNumber} on ${dayWords(unappliedOn)} already.`);
}

async function reopen(
  scope: Scope,
  payment: FoundPayment,
  application: FoundApplication,
  wanted: UnapplicationRow,
): Promise<Result<true>> {
  const { tx } = scope;
  const { invoiceId, amountMinor, invoiceNumber } = application;
  const [invoice] = await lockInvoiceBalances(tx, payment.accountId, [invoiceId]);
  if (invoice === undefined) throw new Error('an application to an invoice that is not there');
  await lockPaymentBalance(tx, payment.id);
  if (!(await insertUnapplications(tx, [wanted])))
    return refuse('id_reused', 'That id was used for something else already.', 'id');
  const reopened = await reopenInvoices(scope, [{ invoice, amountMinor }]);
  if (!reopened.ok) return reopened;
  await raisePaymentBalance(tx, payment.id, amountMinor);
  await record(
    scope,
    'payment_unapplied',
    { kind: 'payment', id: payment.id },
    { invoice: invoiceNumber, amount: formatMinor(amountMinor, payment.currency), reason: wanted.reason },
  );
  return ok(true);
}
