import {
  type CreditMoveRow,
  findAccount,
  findMove,
  findPayment,
  insertMove,
  insertPayment,
} from '@grainwright/db';
import {
  type AccountId,
  type CreditMoveId,
  type CreditSource,
  creditMoved,
  type Day,
  formatMinor,
  type JournalEntry,
  ok,
  type PaymentId,
  type Result,
  refuse,
  toId,
} from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { type CreditHolder, lockCreditHolder, takeFromHolder } from './credit-holder.ts';
import { type PaymentView, paymentViewOf } from './payment-view.ts';
import { postEntries } from './post-entries.ts';
import { meansDay, readAmount, readDayAfter } from './receipt-input.ts';

export interface MoveCreditInput {
  /** Made by the client: the same id with the same content again is the same move. */
  readonly moveId: CreditMoveId;
  readonly from: CreditSource;
  /** Of the same group. */
  readonly toAccountId: AccountId;
  readonly amount: string;
  /** Null: today. */
  readonly on: string | null;
}

/**
 * Moves account credit to another account of the same group, where a payment of method “moved” holds it; answers that
 * payment. Refuses with `over_payment` more than is left, and with `wrong_state` an account of no common group.
 */
export function moveCredit(
  services: Services,
  actor: Actor,
  input: MoveCreditInput,
): Promise<Result<PaymentView>> {
  return performAsStaff(services, actor, 'record_payment', async (scope) => {
    const locked = await lockCreditHolder(scope, input.from);
    if (!locked.ok) return locked;
    const holder = locked.value;
    if (holder.purpose === 'deposit')
      return refuse('wrong_state', 'This is a deposit for work of this account. It can’t be moved.');
    const read = everyResult({
      amountMinor: readAmount(input.amount, holder.currency, 'amount'),
      on: readDayAfter(scope, input.on, 'on', { day: holder.since, words: 'The money is of' }),
    });
    if (!read.ok) return read;
    const together = await inOneGroup(scope, holder.accountId, input.toAccountId);
    if (!together.ok) return together;
    const before = await findMove(scope.tx, input.moveId);
    if (before !== null)
      return meansDay(input.on, read.value.on, before.movedOn)
        ? movedBefore(scope, before, holder, { ...input, ...read.value })
        : otherMove();
    const moved = await moveTo(scope, holder, { id: input.moveId, to: input.toAccountId, ...read.value });
    if (!moved.ok) return moved;
    const posted = await postEntries(scope, [moved.value.entry], 'on');
    return posted.ok ? ok(await paymentViewOf(scope, moved.value.paymentId)) : posted;
  });
}

/** Money goes only between accounts that one payer pays for together. */
export async function inOneGroup({ tx }: Scope, from: AccountId, to: AccountId): Promise<Result<true>> {
  const field = 'to_account_id';
  const [giver, taker] = [await findAccount(tx, from), await findAccount(tx, to)];
  if (giver === null || taker === null) return refuse('not_found', 'There is no such account.', field);
  if (giver.id === taker.id)
    return refuse('invalid_input', 'It is there already. Choose another account.', field);
  if (giver.groupId !== null && giver.groupId === taker.groupId) return ok(true);
  return refuse(
    'wrong_state',
    `${taker.name} is in no common group with ${giver.name}. Credit moves only within a group.`,
    field,
  );
}

export interface WantedMove {
  readonly id: CreditMoveId;
  readonly to: AccountId;
  readonly amountMinor: bigint;
  readonly on: Day;
}

export interface MovedCreditPayment {
  readonly paymentId: PaymentId;
  readonly entry: JournalEntry;
}

/** Takes credit off its holder, locked already, and writes the payment that holds it from now on, all unapplied. */
export async function moveTo(
  scope: Scope,
  holder: CreditHolder,
  { id, to, amountMinor, on }: WantedMove,
): Promise<Result<MovedCreditPayment>> {
  const { tx, actor, now } = scope;
  const taken = await takeFromHolder(scope, holder, amountMinor);
  if (!taken.ok) return taken;
  const paymentId = toId<PaymentId>(scope.newId());
  const inserted = await insertPayment(tx, {
    id: paymentId,
    accountId: to,
    method: 'moved',
    reference: '',
    amountMinor,
    currency: holder.currency,
    receivedOn: on,
    recordedBy: actor.personId,
    recordedAt: now,
    purpose: 'payment',
    workOrderId: null,
  });
  if (!inserted) throw new Error('a new id is taken');
  const move: CreditMoveRow = {
    id,
    accountId: holder.accountId,
    paymentId: 'paymentId' in holder.source ? holder.source.paymentId : null,
    creditNoteId: 'creditNoteId' in holder.source ? holder.source.creditNoteId : null,
    toAccountId: to,
    toPaymentId: paymentId,
    amountMinor,
    movedOn: on,
    takesBack: null,
    movedBy: actor.personId,
    movedAt: now,
  };
  if (!(await insertMove(tx, move))) return otherMove();
  const detail = { amount: formatMinor(amountMinor, holder.currency), to_account: to, to_payment: paymentId };
  await record(scope, 'credit_moved', holder.subject, detail);
  const { source } = holder;
  return ok({
    paymentId,
    entry: creditMoved({ from: holder.accountId, to, on, amountMinor, source, paymentId }),
  });
}

async function movedBefore(
  scope: Scope,
  found: CreditMoveRow,
  { source }: CreditHolder,
  { toAccountId, amountMinor }: { readonly toAccountId: AccountId; readonly amountMinor: bigint },
): Promise<Result<PaymentView>> {
  const given = {
    paymentId: 'paymentId' in source ? source.paymentId : null,
    creditNoteId: 'creditNoteId' in source ? source.creditNoteId : null,
    toAccountId,
    amountMinor,
  };
  const held = await findPayment(scope.tx, found.toPaymentId);
  if (sameContent(found, given) && held !== null) return ok(await paymentViewOf(scope, held.id));
  return otherMove();
}

function otherMove() {
  return refuse('id_reused', 'That id is another move already.', 'id');
}
