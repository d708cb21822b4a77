import {
  type AccountRow,
  type FoundPayment,
  findAccount,
  findPayment,
  findTwinPayment,
  insertPayment,
  listApplicationsOfPayments,
  listMovesFrom,
  type PaymentRow,
} from '@grainwright/db';
import {
  type AccountId,
  displayMoney,
  formatMinor,
  type InvoiceId,
  type JournalEntry,
  ok,
  type PaymentId,
  paymentReceived,
  type Result,
  refuse,
} from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { momentWords } from '../work-orders/moment-words.ts';
import { applyReceived, type ReceivedPart } from './apply-received.ts';
import { type PaymentView, paymentMethods, paymentViewOf } from './payment-view.ts';
import { postEntries } from './post-entries.ts';
import { placeOf, readAmount, readMethod, readReceivedOn, readReference } from './receipt-input.ts';

export interface RecordPaymentInput {
  /** Made by the client: the same id with the same content again is the same payment. */
  readonly paymentId: PaymentId;
  readonly accountId: AccountId;
  readonly method: string;
  readonly amount: string;
  readonly receivedOn: string;
  /** A check's number, the bank's or the processor's reference; may be empty. */
  readonly reference: string;
  /**
   * What it settles at once; the rest stays account credit, unless the account has its money applied by itself. Each
   * invoice once; an invoice of another account of the group is settled by credit moved there.
   */
  readonly applications: readonly { readonly invoiceId: InvoiceId; readonly amount: string }[];
  /** Somebody has seen that a payment like this one is there already, and means another. */
  readonly anyway?: boolean | undefined;
}

/**
 * Records money received from an account and, in the same transaction, what it settles. Refuses with
 * `invalid_money`, `dates_out_of_order`, `over_payment`, `id_reused`, and once with `duplicate` what says the same as an
 * earlier payment.
 */
export function recordPayment(
  services: Services,
  actor: Actor,
  input: RecordPaymentInput,
): Promise<Result<PaymentView>> {
  return performAsStaff(services, actor, 'record_payment', async (scope) => {
    const account = await findAccount(scope.tx, input.accountId);
    if (account === null) return refuse('not_found', 'There is no such account.', 'account_id');
    const wanted = wantedPayment(scope, account, input);
    if (!wanted.ok) return wanted;
    const { payment, parts } = wanted.value;
    if (!(await insertPayment(scope.tx, payment))) return recordedBefore(scope, wanted.value);
    const twin = input.anyway === true ? null : await findTwinPayment(scope.tx, payment);
    if (twin !== null) return alike(twin, scope.business.timeZone);
    const applied = await applyReceived(scope, account, payment, parts);
    if (!applied.ok) return applied;
    const { id, amountMinor, currency, method } = payment;
    await record(
      scope,
      'payment_recorded',
      { kind: 'payment', id },
      { amount: formatMinor(amountMinor, currency), currency, method, applied_to: parts.length },
    );
    const posted = await postEntries(scope, [receivedEntry(payment), ...applied.value], 'received_on');
    if (!posted.ok) return posted;
    return ok(await paymentViewOf(scope, id));
  });
}

function alike({ method, reference, amountMinor, currency, recordedAt }: FoundPayment, timeZone: string) {
  const what = `${paymentMethods[method]} ${reference}`.trim();
  return refuse(
    'duplicate',
    `The same is recorded already: ${what} of ${displayMoney(amountMinor, currency)}, at ${momentWords(recordedAt, timeZone)}. Record it anyway only if there are two of them.`,
  );
}

type NewPayment = Omit<PaymentRow, 'tenantId'>;
interface WantedPayment {
  readonly payment: NewPayment;
  readonly parts: readonly ReceivedPart[];
}

function wantedPayment(scope: Scope, account: AccountRow, input: RecordPaymentInput): Result<WantedPayment> {
  const { currency } = scope.business;
  const read = everyResult({
    method: readMethod(input.method),
    amountMinor: readAmount(input.amount, currency, 'amount'),
    receivedOn: readReceivedOn(scope, account, input.receivedOn),
    reference: readReference(input.reference),
    parts: readParts(input, currency),
  });
  if (!read.ok) return read;
  const { parts, ...fields } = read.value;
  return ok({
    payment: {
      id: input.paymentId,
      accountId: account.id,
      currency,
      ...fields,
      purpose: 'payment',
      workOrderId: null,
      recordedBy: scope.actor.personId,
      recordedAt: scope.now,
    },
    parts,
  });
}

function readParts(input: RecordPaymentInput, currency: string): Result<readonly ReceivedPart[]> {
  const parts: ReceivedPart[] = [];
  for (const [index, { invoiceId, amount }] of input.applications.entries()) {
    const field = `applications.${index}.amount`;
    const read = readAmount(amount, currency, field);
    if (!read.ok) return read;
    if (parts.some((part) => part.invoiceId === invoiceId))
      return refuse('invalid_input', 'Name each invoice once, with the whole amount for it.', field);
    parts.push({ invoiceId, amountMinor: read.value, field });
  }
  return ok(parts);
}

/** The payment that has this id already: the same one, or another. */
async function recordedBefore(scope: Scope, { payment, parts }: WantedPayment): Promise<Result<PaymentView>> {
  const found = await findPayment(scope.tx, payment.id);
  if (found === null) return refuse('id_reused', 'That id is another payment already.', 'id');
  const { accountId, method, reference, amountMinor, receivedOn, purpose } = payment;
  const moved = (await listMovesFrom(scope.tx, [payment.id])).filter(
    (move) => move.movedAt === found.recordedAt,
  );
  const holders = [payment.id, ...moved.map((move) => move.toPaymentId)];
  const atOnce = (await listApplicationsOfPayments(scope.tx, holders)).filter(
    (application) => application.appliedAt === found.recordedAt && !application.byRule,
  );
  const same =
    sameContent(found, { accountId, method, reference, amountMinor, receivedOn, purpose }) &&
    atOnce.length === parts.length &&
    parts.every((part) =>
      atOnce.some((each) => each.invoiceId === part.invoiceId && each.amountMinor === part.amountMinor),
    );
  if (same) return ok(await paymentViewOf(scope, payment.id));
  return refuse('id_reused', 'That id is another payment already, with other amounts or dates.', 'id');
}

function receivedEntry(payment: NewPayment): JournalEntry {
  return paymentReceived({
    party: payment.accountId,
    on: payment.receivedOn,
    paymentId: payment.id,
    amountMinor: payment.amountMinor,
    place: placeOf(payment.method),
  });
}
