import { findRefund, insertRefund, type RefundRow } from '@grainwright/db';
import {
  type CreditSource,
  depositRefunded,
  displayMoney,
  formatMinor,
  type JournalEntry,
  ok,
  type PaymentId,
  parseMoney,
  type RefundId,
  type Result,
  refunded,
  refuse,
} from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { type CreditHolder, lockCreditHolder, takeFromHolder } from './credit-holder.ts';
import type { RefundView } from './payment-view.ts';
import { postEntries } from './post-entries.ts';
import { meansDay, placeOf, readAmount, readDayAfter, readMethod, readReference } from './receipt-input.ts';

export interface RefundCreditInput {
  /** Made by the client: the same id with the same content again is the same refund. */
  readonly refundId: RefundId;
  readonly from: CreditSource;
  readonly amount: string;
  readonly method: string;
  readonly reference: string;
  /** Null: today. */
  readonly on: string | null;
}

/**
 * Pays account credit of a payment or credit note back to the customer. Refuses with `over_payment` more than is left of
 * it, and with `wrong_state` a deposit.
 */
export function refundCredit(
  services: Services,
  actor: Actor,
  input: RefundCreditInput,
): Promise<Result<RefundView>> {
  return performAsStaff(services, actor, 'record_payment', (scope) =>
    refund(scope, { ...input, purpose: 'payment', feeKept: '0' }),
  );
}

export interface RefundDepositInput extends Omit<RefundCreditInput, 'from'> {
  readonly paymentId: PaymentId;
  /** What the business keeps of the amount, as agreed for a cancellation; empty or 0: nothing. */
  readonly feeKept: string;
}

/**
 * Gives a deposit back, less a fee that is kept. `amount` is what is taken off the deposit, the fee a part of it.
 * Refuses with `over_payment` more than is held, and with `invalid_money` a fee above the amount.
 */
export function refundDeposit(
  services: Services,
  actor: Actor,
  input: RefundDepositInput,
): Promise<Result<RefundView>> {
  return performAsStaff(services, actor, 'record_payment', (scope) =>
    refund(scope, { ...input, purpose: 'deposit', from: { paymentId: input.paymentId } }),
  );
}

interface WantedRefund extends RefundCreditInput {
  readonly purpose: 'payment' | 'deposit';
  readonly feeKept: string;
}

async function refund(scope: Scope, wanted: WantedRefund): Promise<Result<RefundView>> {
  const locked = await lockCreditHolder(scope, wanted.from);
  if (!locked.ok) return locked;
  const holder = locked.value;
  if (holder.purpose !== wanted.purpose)
    return refuse(
      'wrong_state',
      wanted.purpose === 'deposit'
        ? 'This is a payment, not a deposit.'
        : 'This is a deposit. Give it back as one.',
    );
  const row = refundRow(scope, holder, wanted);
  if (!row.ok) return row;
  const before = await findRefund(scope.tx, wanted.refundId);
  if (before !== null) return sameRefund(before, row.value, wanted.on, holder.currency);
  const taken = await takeFromHolder(scope, holder, row.value.amountMinor);
  if (!taken.ok) return taken;
  if (!(await insertRefund(scope.tx, row.value)))
    return refuse('id_reused', 'That id is another refund already.', 'id');
  const { amountMinor, feeKeptMinor } = row.value;
  const amounts = {
    amount: formatMinor(amountMinor, holder.currency),
    fee_kept: formatMinor(feeKeptMinor, holder.currency),
  };
  await record(scope, `${wanted.purpose}_refunded`, holder.subject, amounts);
  const posted = await postEntries(scope, [refundEntry(holder, row.value)], 'on');
  return posted.ok ? ok(refundView(row.value, holder.currency)) : posted;
}

function refundRow(scope: Scope, holder: CreditHolder, wanted: WantedRefund): Result<RefundRow> {
  const { currency } = holder;
  const read = everyResult({
    amountMinor: readAmount(wanted.amount, currency, 'amount'),
    feeKeptMinor:
      wanted.feeKept.trim() === '' ? ok(0n) : parseMoney(wanted.feeKept, { currency, field: 'fee_kept' }),
    method: readMethod(wanted.method),
    reference: readReference(wanted.reference),
    refundedOn: readDayAfter(scope, wanted.on, 'on', { day: holder.since, words: 'The money is of' }),
  });
  if (!read.ok) return read;
  if (read.value.feeKeptMinor > read.value.amountMinor)
    return refuse(
      'invalid_money',
      `The fee can’t be more than the ${displayMoney(read.value.amountMinor, currency)} it is kept of.`,
      'fee_kept',
    );
  return ok({
    id: wanted.refundId,
    accountId: holder.accountId,
    paymentId: 'paymentId' in holder.source ? holder.source.paymentId : null,
    creditNoteId: 'creditNoteId' in holder.source ? holder.source.creditNoteId : null,
    ...read.value,
    recordedBy: scope.actor.personId,
    recordedAt: scope.now,
  });
}

function sameRefund(
  found: RefundRow,
  row: RefundRow,
  on: string | null,
  currency: string,
): Result<RefundView> {
  const { paymentId, creditNoteId, amountMinor, feeKeptMinor, method, reference } = row;
  const sameDay = meansDay(on, row.refundedOn, found.refundedOn);
  const same = sameContent(found, { paymentId, creditNoteId, amountMinor, feeKeptMinor, method, reference });
  return same && sameDay
    ? ok(refundView(found, currency))
    : refuse('id_reused', 'That id is another refund already.', 'id');
}

function refundEntry({ source, purpose, accountId }: CreditHolder, row: RefundRow): JournalEntry {
  const { amountMinor, feeKeptMinor, refundedOn: on } = row;
  const money = { party: accountId, on, amountMinor, place: placeOf(row.method) };
  if (purpose === 'deposit' && 'paymentId' in source)
    return depositRefunded({ ...money, paymentId: source.paymentId, feeKeptMinor });
  return refunded({ ...money, ...source });
}

function refundView(row: RefundRow, currency: string): RefundView {
  const { id, amountMinor, feeKeptMinor, method, reference, refundedOn } = row;
  return { id, amountMinor, feeKeptMinor, currency, method, reference, refundedOn };
}
