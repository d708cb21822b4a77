import {
  findCreditNote,
  findPayment,
  holdPayments,
  lockCreditNoteBalance,
  lockPaymentBalance,
  reduceCreditNoteBalance,
  reducePaymentBalance,
} from '@grainwright/db';
import {
  type AccountId,
  type CreditNoteId,
  type CreditSource,
  type Day,
  displayMoney,
  ok,
  type PaymentId,
  type Result,
  refuse,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';

/** What holds account credit or a deposit, as it stands under lock. */
export interface CreditHolder {
  readonly source: CreditSource;
  readonly subject: { readonly kind: 'payment' | 'credit_note'; readonly id: string };
  readonly accountId: AccountId;
  readonly purpose: 'payment' | 'deposit';
  readonly currency: string;
  /** The day from which there is something of it. */
  readonly since: Day;
  readonly unappliedMinor: bigint;
}

/** Locks a payment or credit note and what of it settles nothing. */
export function lockCreditHolder(scope: Scope, source: CreditSource): Promise<Result<CreditHolder>> {
  return 'paymentId' in source
    ? lockPayment(scope, source.paymentId)
    : lockCreditNote(scope, source.creditNoteId);
}

async function lockPayment({ tx }: Scope, id: PaymentId): Promise<Result<CreditHolder>> {
  await holdPayments(tx, [id]);
  const payment = await findPayment(tx, id);
  if (payment === null) return refuse('not_found', 'There is no such payment.');
  const { accountId, purpose, currency, receivedOn } = payment;
  return ok({
    source: { paymentId: id },
    subject: { kind: 'payment', id },
    accountId,
    purpose,
    currency,
    since: receivedOn,
    unappliedMinor: await lockPaymentBalance(tx, id),
  });
}

async function lockCreditNote({ tx }: Scope, id: CreditNoteId): Promise<Result<CreditHolder>> {
  const note = await findCreditNote(tx, id);
  if (note === null) return refuse('not_found', 'There is no such credit note.');
  return ok({
    source: { creditNoteId: id },
    subject: { kind: 'credit_note', id },
    accountId: note.accountId,
    purpose: 'payment',
    currency: note.currency,
    since: note.issuedOn,
    unappliedMinor: await lockCreditNoteBalance(tx, id),
  });
}

/** Takes an amount off what is left of it. Refuses with `over_payment` more than that. */
export async function takeFromHolder(
  { tx }: Scope,
  holder: CreditHolder,
  amountMinor: bigint,
): Promise<Result<true>> {
  const { unappliedMinor, currency, source } = holder;
  if (amountMinor > unappliedMinor)
    return refuse(
      'over_payment',
      unappliedMinor === 0n
        ? 'Nothing of it is left: all of it settles something or went back already.'
        : `Only ${displayMoney(unappliedMinor, currency)} of it is left.`,
      'amount',
    );
  const left =
    'paymentId' in source
      ? await reducePaymentBalance(tx, source.paymentId, amountMinor)
      : await reduceCreditNoteBalance(tx, source.creditNoteId, amountMinor);
  if (left === null) throw new Error('less is left than was locked');
  return ok(true);
}
