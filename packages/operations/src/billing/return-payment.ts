import {
  type FoundPayment,
  findPayment,
  findReturnById,
  findReturnOf,
  holdPayments,
  insertReturn,
  insertUnapplications,
} from '@grainwright/db';
import {
  type Day,
  dayWords,
  displayMoney,
  formatMinor,
  type JournalEntry,
  ok,
  type PaymentId,
  type Result,
  type ReturnId,
  refuse,
  toId,
  type UnapplicationId,
} from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { readWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { chargeFee } from './charge-fee.ts';
import { type PaymentView, paymentMethods, paymentViewOf } from './payment-view.ts';
import { postEntries } from './post-entries.ts';
import { readAmount, readDayAfter } from './receipt-input.ts';
import { reopenInvoices } from './settle-invoices.ts';
import { lockWholePayment, settledParts, takeMoneyBack, type WholePayment } from './whole-payment.ts';

export interface ReturnPaymentInput {
  /** Made by the client: the same id with the same content again is the same return. */
  readonly returnId: ReturnId;
  readonly paymentId: PaymentId;
  readonly returnedOn: string;
  /** What the bank or the processor said. */
  readonly reason: string;
  /** The fee that the account is charged; null: none. What the law of the place allows is an adviser's to say. */
  readonly fee: string | null;
}

/**
 * A payment or deposit that came back, on the day it did: what it had settled is open again with its first due date,
 * credit of it that went to other accounts of the group is taken back, and the money is no longer there. A fee is a
 * document of its own, due at once. Refuses with `wrong_state` what came back before or is partly refunded, and with
 * `dates_out_of_order` a day before the money came or was applied.
 */
export function returnPayment(
  services: Services,
  actor: Actor,
  input: ReturnPaymentInput,
): Promise<Result<PaymentView>> {
  return performAsStaff(services, actor, 'record_payment', async (scope) => {
    await holdPayments(scope.tx, [input.paymentId]);
    const payment = await findPayment(scope.tx, input.paymentId);
    if (payment === null) return refuse('not_found', 'There is no such payment.');
    const wanted = wantedReturn(scope, payment, input);
    if (!wanted.ok) return wanted;
    const before = await returnedBefore(scope, payment, wanted.value);
    if (before !== null) return before;
    const whole = await lockWholePayment(scope, payment);
    if (!whole.ok) return whole;
    const inOrder = afterItsUse(whole.value, wanted.value.returnedOn);
    if (!inOrder.ok) return inOrder;
    const entries = await takeBack(scope, whole.value, wanted.value);
    if (!entries.ok) return entries;
    const posted = await postEntries(scope, entries.value, 'returned_on');
    return posted.ok ? ok(await paymentViewOf(scope, payment.id)) : posted;
  });
}

interface WantedReturn {
  readonly id: ReturnId;
  readonly returnedOn: Day;
  readonly reason: string;
  readonly feeMinor: bigint | null;
}

function wantedReturn(scope: Scope, payment: FoundPayment, input: ReturnPaymentInput): Result<WantedReturn> {
  const { method, currency, receivedOn } = payment;
  if (method === 'moved' || method === 'brought_forward')
    return refuse('wrong_state', `This is ${paymentMethods[method]}: no bank can return it.`);
  const since = { day: receivedOn, words: 'The money came on' };
  const read = everyResult({
    returnedOn: readDayAfter(scope, input.returnedOn, 'returned_on', since),
    reason: readWords(input.reason, 'reason', 'why it came back', 500),
    feeMinor: input.fee === null ? ok(null) : readAmount(input.fee, currency, 'fee'),
  });
  return read.ok ? ok({ id: input.returnId, ...read.value }) : read;
}

/** The return that is there already, if it is this one; a problem if it is another. */
async function returnedBefore(
  scope: Scope,
  { id: paymentId }: FoundPayment,
  wanted: WantedReturn,
): Promise<Result<PaymentView> | null> {
  const found = await findReturnById(scope.tx, wanted.id);
  const { returnedOn, reason, feeMinor } = wanted;
  if (found !== null)
    return sameContent(found, { paymentId, returnedOn, reason, feeMinor })
      ? ok(await paymentViewOf(scope, paymentId))
      : refuse('id_reused', 'That id is another return already.', 'id');
  const other = await findReturnOf(scope.tx, paymentId);
  if (other === null) return null;
  return refuse('wrong_state', `This payment came back on ${dayWords(other.returnedOn)} already.`);
}

/** Nothing reopens before the day it was settled. */
function afterItsUse({ applications, moves }: WholePayment, returnedOn: Day): Result<true> {
  const later = applications.find((application) => application.appliedOn > returnedOn);
  if (later !== undefined)
    return refuse(
      'dates_out_of_order',
      `It was applied to ${later.invoiceNumber} on ${dayWords(later.appliedOn)}. Write that day or a later one.`,
      'returned_on',
    );
  const moved = moves.find((move) => move.movedOn > returnedOn);
  if (moved === undefined) return ok(true);
  return refuse(
    'dates_out_of_order',
    `A part of it was moved to another account on ${dayWords(moved.movedOn)}. Write that day or a later one.`,
    'returned_on',
  );
}

async function takeBack(
  scope: Scope,
  whole: WholePayment,
  wanted: WantedReturn,
): Promise<Result<readonly JournalEntry[]>> {
  const { payment, applications } = whole;
  const { id, returnedOn, reason, feeMinor } = wanted;
  const reopened = await reopenInvoices(scope, settledParts(whole));
  if (!reopened.ok) return reopened;
  // Its running number after the work orders are locked: others wait for them who hold none.
  const fee = feeMinor === null ? null : await chargeFee(scope, feeOf(payment, returnedOn, feeMinor));
  const returned = { id, accountId: payment.accountId, paymentId: payment.id, returnedOn, reason };
  const done = { recordedBy: scope.actor.personId, recordedAt: scope.now };
  if (!(await insertReturn(scope.tx, { ...returned, feeInvoiceId: fee?.id ?? null, ...done })))
    return refuse('id_reused', 'That id is another return already.', 'id');
  const rows = applications.map((application) => ({
    id: toId<UnapplicationId>(scope.newId()),
    applicationId: application.id,
    returnId: id,
    unappliedOn: returnedOn,
    reason,
    unappliedBy: scope.actor.personId,
    unappliedAt: scope.now,
  }));
  if (!(await insertUnapplications(scope.tx, rows)))
    throw new Error('an application was taken back under lock');
  const entries = await takeMoneyBack(scope, whole, returnedOn);
  await record(
    scope,
    'payment_returned',
    { kind: 'payment', id: payment.id },
    { amount: formatMinor(payment.amountMinor, payment.currency), reason, fee: fee?.number ?? null },
  );
  return ok(fee === null ? entries : [...entries, fee.entry]);
}

function feeOf(
  { accountId, amountMinor, currency, method, reference }: FoundPayment,
  on: Day,
  feeMinor: bigint,
) {
  const what = [paymentMethods[method], reference].filter((part) => part !== '').join(' ');
  return {
    accountId,
    kind: 'return_fee',
    amountMinor: feeMinor,
    on,
    subject: `Fee for the payment of ${displayMoney(amountMinor, currency)} by ${what} that was returned`,
  } as const;
}
