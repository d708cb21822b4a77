import {
  type AccountRow,
  type FoundReceipt,
  findAccount,
  findParkedReceipt,
  holdPayments,
  insertAssignment,
  insertPayment,
} from '@grainwright/db';
import {
  type AccountId,
  type Day,
  dayWords,
  formatMinor,
  type JournalEntry,
  ok,
  type PaymentId,
  type ReceiptId,
  type Result,
  receiptAssigned,
  refuse,
  toId,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { applyOldestFirst, lockToPay } from './apply-oldest-first.ts';
import { type PaymentView, paymentViewOf } from './payment-view.ts';
import { postEntries } from './post-entries.ts';
import { meansDay, readDayAfter } from './receipt-input.ts';

export interface AssignReceiptInput {
  readonly receiptId: ReceiptId;
  readonly accountId: AccountId;
  /** Made by the client: the id of the account's payment that it becomes. */
  readonly paymentId: PaymentId;
  /** The day it was found out; null: today. */
  readonly on: string | null;
}

/**
 * Gives a parked receipt to the account that sent it: from that day on it is a payment and credit of the account.
 * Refuses with `wrong_state` what is assigned already.
 */
export function assignReceipt(
  services: Services,
  actor: Actor,
  input: AssignReceiptInput,
): Promise<Result<PaymentView>> {
  return performAsStaff(services, actor, 'record_payment', async (scope) => {
    const { tx } = scope;
    // One at a time decides whose it is.
    await holdPayments(tx, [toId<PaymentId>(input.receiptId)]);
    const receipt = await findParkedReceipt(tx, input.receiptId);
    if (receipt === null) return refuse('not_found', 'There is no such receipt.');
    const account = await findAccount(tx, input.accountId);
    if (account === null) return refuse('not_found', 'There is no such account.', 'account_id');
    const since = { day: receipt.receivedOn, words: 'The money came on' };
    const on = readDayAfter(scope, input.on, 'on', since);
    if (!on.ok) return on;
    if (receipt.assigned !== null) return assignedBefore(scope, receipt.assigned, input, on.value);
    const entries = await assign(scope, receipt, account, { paymentId: input.paymentId, on: on.value });
    if (!entries.ok) return entries;
    const posted = await postEntries(scope, entries.value, 'on');
    return posted.ok ? ok(await paymentViewOf(scope, input.paymentId)) : posted;
  });
}

async function assignedBefore(
  scope: Scope,
  assigned: NonNullable<FoundReceipt['assigned']>,
  input: AssignReceiptInput,
  on: Day,
): Promise<Result<PaymentView>> {
  if (assigned.accountId === input.accountId && assigned.paymentId === input.paymentId)
    return meansDay(input.on, on, assigned.assignedOn)
      ? ok(await paymentViewOf(scope, assigned.paymentId))
      : refuse('id_reused', 'That id is the assignment of another day already.', 'id');
  return refuse(
    'wrong_state',
    `It was assigned to ${assigned.accountName} on ${dayWords(assigned.assignedOn)} already.`,
  );
}

async function assign(
  scope: Scope,
  receipt: FoundReceipt,
  account: AccountRow,
  { paymentId, on }: { readonly paymentId: PaymentId; readonly on: Day },
): Promise<Result<readonly JournalEntry[]>> {
  const { tx, actor, now } = scope;
  const { method, reference, amountMinor, currency } = receipt;
  const payment = {
    id: paymentId,
    accountId: account.id,
    method,
    reference,
    amountMinor,
    currency,
    receivedOn: on,
    recordedBy: actor.personId,
    recordedAt: now,
    purpose: 'payment',
    workOrderId: null,
  } as const;
  if (!(await insertPayment(tx, payment)))
    return refuse('id_reused', 'That id is another payment already.', 'id');
  const assignment = { receiptId: receipt.id, accountId: account.id, paymentId, assignedOn: on };
  if (!(await insertAssignment(tx, { ...assignment, assignedBy: actor.personId, assignedAt: now })))
    throw new Error('a receipt was assigned under lock');
  const { oldestFirst } = await lockToPay(scope, account.appliesMoneyItself ? account.id : null, []);
  const applied = await applyOldestFirst(scope, payment, amountMinor, oldestFirst);
  if (!applied.ok) return applied;
  await record(
    scope,
    'receipt_assigned',
    { kind: 'parked_receipt', id: receipt.id },
    { account: account.id, payment: paymentId, amount: formatMinor(amountMinor, currency) },
  );
  return ok([receiptAssigned({ party: account.id, on, paymentId, amountMinor }), ...applied.value]);
}
