import {
  type CreditMoveRow,
  type FoundApplication,
  type FoundPayment,
  findPayment,
  holdPayments,
  insertMove,
  type LockedInvoice,
  listApplicationsOfPayments,
  listMovesFrom,
  lockBalancesOfInvoices,
  lockPaymentBalances,
  reducePaymentBalance,
} from '@grainwright/db';
import {
  type AppliedPart,
  type CreditMoveId,
  creditMoved,
  type Day,
  depositReturned,
  displayMoney,
  type JournalEntry,
  ok,
  type PaymentId,
  paymentReturned,
  paymentUnapplied,
  type Result,
  refuse,
  sumMinor,
  toId,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { placeOf } from './receipt-input.ts';

/** A payment with everything that became of it, under lock: nothing of it is anywhere else. */
export interface WholePayment {
  readonly payment: FoundPayment;
  readonly unappliedMinor: bigint;
  /** What of it holds credit at other accounts of the group. */
  readonly moves: readonly MovedPart[];
  /** What it settles now, at the own account and where it was moved to. */
  readonly applications: readonly FoundApplication[];
  readonly invoices: readonly LockedInvoice[];
}

interface MovedPart extends CreditMoveRow {
  readonly holder: FoundPayment;
  readonly unappliedMinor: bigint;
}

/**
 * Locks a payment, held already, with what it settles and where it was moved to. Refuses with `wrong_state` when a part
 * was refunded or went further, since then it can't come back as a whole.
 */
export async function lockWholePayment(scope: Scope, payment: FoundPayment): Promise<Result<WholePayment>> {
  const { tx } = scope;
  const moved = (await listMovesFrom(tx, [payment.id])).filter((move) => move.takenBackBy === null);
  await holdPayments(
    tx,
    moved.map((move) => move.toPaymentId),
  );
  const ids = [payment.id, ...moved.map((move) => move.toPaymentId)];
  const applications = await liveApplications(scope, ids);
  const invoiceIds = [...new Set(applications.map((application) => application.invoiceId))];
  const invoices = await lockBalancesOfInvoices(tx, invoiceIds);
  const balances = await lockPaymentBalances(tx, ids);
  // An invoice that was being issued may have taken a deposit before its balance was locked here.
  if ((await liveApplications(scope, ids)).length !== applications.length)
    return refuse(
      'wrong_state',
      'It was just applied to an invoice. Look at it again, then send this again.',
    );
  const moves: MovedPart[] = [];
  for (const move of moved) {
    const holder = await findPayment(tx, move.toPaymentId);
    if (holder === null) throw new Error('credit was moved to nowhere');
    moves.push({ ...move, holder, unappliedMinor: balances.get(holder.id) ?? 0n });
  }
  const whole = { payment, unappliedMinor: balances.get(payment.id) ?? 0n, moves, applications, invoices };
  return nothingIsGone(whole);
}

async function liveApplications(
  { tx }: Scope,
  ids: readonly PaymentId[],
): Promise<readonly FoundApplication[]> {
  const all = await listApplicationsOfPayments(tx, ids);
  return all.filter((application) => application.unappliedOn === null);
}

function nothingIsGone(whole: WholePayment): Result<WholePayment> {
  const { payment, moves } = whole;
  const movedMinor = sumMinor(moves.map((move) => move.amountMinor));
  const there = [
    { amountMinor: payment.amountMinor - movedMinor, left: whole.unappliedMinor, id: payment.id },
    ...moves.map((move) => ({
      amountMinor: move.amountMinor,
      left: move.unappliedMinor,
      id: move.holder.id,
    })),
  ];
  const goneMinor = sumMinor(
    there.map(({ amountMinor, left, id }) => amountMinor - left - sumMinor(partsOf(whole, id).map(amountOf))),
  );
  if (goneMinor === 0n) return ok(whole);
  return refuse(
    'wrong_state',
    `${displayMoney(goneMinor, payment.currency)} of it was refunded or moved on, so its return can’t be recorded here. Collect the money from the account, and have your accountant enter the bank’s notice.`,
  );
}

/** What one holder's applications settle, invoice by invoice. */
function partsOf({ applications }: WholePayment, holder: PaymentId): readonly AppliedPart[] {
  return applications
    .filter((application) => application.paymentId === holder)
    .map(({ invoiceId, amountMinor }) => ({ invoiceId, amountMinor }));
}

function amountOf(part: AppliedPart): bigint {
  return part.amountMinor;
}

/** The locked invoices with what of this payment had settled them. */
export function settledParts({ applications, invoices }: WholePayment) {
  return applications.map(({ invoiceId, amountMinor }) => {
    const invoice = invoices.find((each) => each.id === invoiceId);
    if (invoice === undefined) throw new Error('an invoice was not locked');
    return { invoice, amountMinor };
  });
}

/**
 * Writes that all of it went back, and answers the entries: credit moved to other accounts comes back first, then what
 * was settled here reopens, then the money is gone. The invoices are reopened by the caller.
 */
export async function takeMoneyBack(
  scope: Scope,
  whole: WholePayment,
  on: Day,
): Promise<readonly JournalEntry[]> {
  const { payment } = whole;
  const entries: JournalEntry[] = [];
  for (const move of whole.moves) entries.push(...(await takeMoveBack(scope, whole, move, on)));
  if ((await reducePaymentBalance(scope.tx, payment.id, whole.unappliedMinor)) === null)
    throw new Error('less is unapplied than was locked');
  const returned = {
    party: payment.accountId,
    on,
    paymentId: payment.id,
    amountMinor: payment.amountMinor,
    place: placeOf(payment.method),
    applied: partsOf(whole, payment.id),
  };
  return [...entries, ...(payment.purpose === 'deposit' ? depositReturned : paymentReturned)(returned)];
}

async function takeMoveBack(
  scope: Scope,
  whole: WholePayment,
  { holder, unappliedMinor, ...move }: MovedPart,
  on: Day,
): Promise<readonly JournalEntry[]> {
  const { tx, actor, now } = scope;
  const { payment } = whole;
  const { amountMinor } = move;
  if ((await reducePaymentBalance(tx, holder.id, unappliedMinor)) === null)
    throw new Error('less is unapplied than was locked');
  const inserted = await insertMove(tx, {
    id: toId<CreditMoveId>(scope.newId()),
    accountId: holder.accountId,
    paymentId: holder.id,
    creditNoteId: null,
    toAccountId: payment.accountId,
    toPaymentId: payment.id,
    amountMinor,
    movedOn: on,
    takesBack: move.id,
    movedBy: actor.personId,
    movedAt: now,
  });
  if (!inserted) throw new Error('a move was taken back under lock');
  const parts = partsOf(whole, holder.id);
  const unapplied = { party: holder.accountId, on, paymentId: holder.id, parts };
  const back = {
    from: holder.accountId,
    to: payment.accountId,
    on,
    amountMinor,
    source: { paymentId: holder.id },
    paymentId: payment.id,
  };
  return [...(parts.length === 0 ? [] : [paymentUnapplied(unapplied)]), creditMoved(back)];
}
