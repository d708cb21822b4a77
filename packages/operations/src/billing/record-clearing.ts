import {
  type ClearingRow,
  findClearingMovement,
  insertClearingMovement,
  lockNumbers,
  sumInClearing,
} from '@grainwright/db';
import {
  type ClearingMovementId,
  type Day,
  displayMoney,
  formatMinor,
  ok,
  payout,
  processorFee,
  type Result,
  refuse,
} from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { postEntries } from './post-entries.ts';
import { readAmount, readMoneyDay, readReference } from './receipt-input.ts';

export interface ClearingInput {
  /** Made by the client: the same id with the same content again is the same. */
  readonly movementId: ClearingMovementId;
  readonly amount: string;
  readonly on: string;
  readonly reference: string;
}

/** What happened to money on its way from the processor of card payments to the bank. */
export interface ClearingMovementView {
  readonly id: ClearingMovementId;
  readonly kind: 'fee' | 'payout';
  readonly amountMinor: bigint;
  readonly currency: string;
  readonly occurredOn: Day;
  readonly reference: string;
}

/** What the processor keeps for itself. Refuses with `over_payment` more than it has to pay out. */
export function recordProcessorFee(
  services: Services,
  actor: Actor,
  input: ClearingInput,
): Promise<Result<ClearingMovementView>> {
  return performAsStaff(services, actor, 'record_payment', (scope) => move(scope, 'fee', input));
}

/** What the processor pays out to the bank. Refuses with `over_payment` more than it has to pay out. */
export function recordPayout(
  services: Services,
  actor: Actor,
  input: ClearingInput,
): Promise<Result<ClearingMovementView>> {
  return performAsStaff(services, actor, 'record_payment', (scope) => move(scope, 'payout', input));
}

async function move(
  scope: Scope,
  kind: ClearingRow['kind'],
  input: ClearingInput,
): Promise<Result<ClearingMovementView>> {
  const { tx, actor, now, business } = scope;
  const read = everyResult({
    amountMinor: readAmount(input.amount, business.currency, 'amount'),
    occurredOn: readMoneyDay(scope, input.on, 'on'),
    reference: readReference(input.reference),
  });
  if (!read.ok) return read;
  // What is there changes only by postings, and nobody else posts from here on.
  await lockNumbers(tx, 'posting');
  const id = input.movementId;
  const before = await findClearingMovement(tx, id);
  if (before !== null)
    return sameContent(before, { kind, ...read.value })
      ? ok(clearingMovementView(before, business.currency))
      : refuse('id_reused', 'That id is something else already.', 'id');
  const { amountMinor, occurredOn: on } = read.value;
  const thereMinor = await sumInClearing(tx);
  if (amountMinor > thereMinor)
    return refuse(
      'over_payment',
      `The processor has ${displayMoney(thereMinor, business.currency)} to pay out. Check the amount, and that every card payment is recorded.`,
      'amount',
    );
  const row = { id, kind, ...read.value, recordedBy: actor.personId, recordedAt: now };
  if (!(await insertClearingMovement(tx, row))) throw new Error('an id was taken under lock');
  const detail = { amount: formatMinor(amountMinor, business.currency) };
  await record(scope, `clearing_${kind}_recorded`, { kind: 'clearing_movement', id }, detail);
  const entry = kind === 'fee' ? processorFee({ on, amountMinor }) : payout({ on, amountMinor });
  const posted = await postEntries(scope, [entry], 'on');
  return posted.ok ? ok(clearingMovementView(row, business.currency)) : posted;
}

export function clearingMovementView(row: ClearingRow, currency: string): ClearingMovementView {
  const { id, kind, amountMinor, occurredOn, reference } = row;
  return { id, kind, amountMinor, currency, occurredOn, reference };
}
