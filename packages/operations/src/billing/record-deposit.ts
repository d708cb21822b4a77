import {
  type AccountRow,
  findAccount,
  findPayment,
  findWorkOrder,
  insertPayment,
  type PaymentRow,
} from '@grainwright/db';
import {
  type AccountId,
  depositReceived,
  formatMinor,
  ok,
  type PaymentId,
  type Result,
  refuse,
  type WorkOrderId,
  type WorkOrderState,
} from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { type PaymentView, paymentViewOf } from './payment-view.ts';
import { postEntries } from './post-entries.ts';
import { placeOf, readAmount, readMethod, readReceivedOn, readReference } from './receipt-input.ts';

export interface RecordDepositInput {
  /** Made by the client: the same id with the same content again is the same deposit. */
  readonly paymentId: PaymentId;
  readonly accountId: AccountId;
  /** Whose work it is for; null: whatever is invoiced next. */
  readonly workOrderId: WorkOrderId | null;
  readonly method: string;
  readonly amount: string;
  readonly receivedOn: string;
  readonly reference: string;
}

/**
 * Records a deposit: a debt to the customer until an invoice is issued that takes it. Refuses with `invalid_money`,
 * `dates_out_of_order`, `wrong_state` (the work is invoiced or will never be), `id_reused`.
 */
export function recordDeposit(
  services: Services,
  actor: Actor,
  input: RecordDepositInput,
): Promise<Result<PaymentView>> {
  return performAsStaff(services, actor, 'record_payment', async (scope) => {
    const account = await findAccount(scope.tx, input.accountId);
    if (account === null) return refuse('not_found', 'There is no such account.', 'account_id');
    const wanted = wantedDeposit(scope, account, input);
    if (!wanted.ok) return wanted;
    const before = await findPayment(scope.tx, input.paymentId);
    if (before !== null) return recordedBefore(scope, wanted.value);
    const work = await workToInvoice(scope, account, input.workOrderId);
    if (!work.ok) return work;
    if (!(await insertPayment(scope.tx, wanted.value))) return recordedBefore(scope, wanted.value);
    return posted(scope, wanted.value);
  });
}

type NewDeposit = Omit<PaymentRow, 'tenantId'>;

function wantedDeposit(scope: Scope, account: AccountRow, input: RecordDepositInput): Result<NewDeposit> {
  const { currency } = scope.business;
  const read = everyResult({
    method: readMethod(input.method),
    amountMinor: readAmount(input.amount, currency, 'amount'),
    receivedOn: readReceivedOn(scope, account, input.receivedOn),
    reference: readReference(input.reference),
  });
  if (!read.ok) return read;
  return ok({
    id: input.paymentId,
    accountId: account.id,
    currency,
    ...read.value,
    purpose: 'deposit',
    workOrderId: input.workOrderId,
    recordedBy: scope.actor.personId,
    recordedAt: scope.now,
  });
}

const beforeInvoice: readonly WorkOrderState[] = [
  'written_up',
  'awaiting_approval',
  'approved',
  'in_work',
  'done',
  'accepted',
];

async function workToInvoice(
  { tx }: Scope,
  account: AccountRow,
  workOrderId: WorkOrderId | null,
): Promise<Result<true>> {
  if (workOrderId === null) return ok(true);
  const found = await findWorkOrder(tx, workOrderId);
  if (found === null || found.workOrder.accountId !== account.id)
    return refuse('not_found', `${account.name} has no such work order.`, 'work_order_id');
  const { number, state } = found.workOrder;
  if (beforeInvoice.includes(state)) return ok(true);
  return refuse(
    'wrong_state',
    `WO-${number} takes no deposit any more. Record the money as a payment.`,
    'work_order_id',
  );
}

async function recordedBefore(scope: Scope, deposit: NewDeposit): Promise<Result<PaymentView>> {
  const found = await findPayment(scope.tx, deposit.id);
  const { accountId, method, reference, amountMinor, receivedOn, purpose, workOrderId } = deposit;
  const given = { accountId, method, reference, amountMinor, receivedOn, purpose, workOrderId };
  if (found !== null && sameContent(found, given)) return ok(await paymentViewOf(scope, deposit.id));
  return refuse('id_reused', 'That id is another payment already.', 'id');
}

async function posted(scope: Scope, deposit: NewDeposit): Promise<Result<PaymentView>> {
  const { id, accountId, amountMinor, currency, method, receivedOn } = deposit;
  await record(
    scope,
    'deposit_recorded',
    { kind: 'payment', id },
    { amount: formatMinor(amountMinor, currency), currency, method },
  );
  const entry = depositReceived({
    party: accountId,
    on: receivedOn,
    paymentId: id,
    amountMinor,
    place: placeOf(method),
  });
  const entered = await postEntries(scope, [entry], 'received_on');
  return entered.ok ? ok(await paymentViewOf(scope, id)) : entered;
}
