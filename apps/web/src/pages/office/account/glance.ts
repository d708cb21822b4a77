import { type AccountId, allows } from '@grainwright/domain';
import {
  type AccountAgingView,
  type Actor,
  countWaiting,
  type DisputeView,
  listDisputes,
  listPayments,
  type PaymentView,
  readAccountAging,
  type Services,
  type WaitingCounts,
} from '@grainwright/operations';
import { unwrap } from '../../../plugins/problem-error.ts';
import type { Frame } from '../../person.ts';

/** Where an account stands today; null is what the reader's role does not see. */
export interface AccountGlance {
  readonly aging: AccountAgingView | null;
  /** Those without an answer, the longest open first. */
  readonly disputes: readonly DisputeView[] | null;
  /** The latest received first. */
  readonly payments: readonly PaymentView[] | null;
  /** Deposits of which something is held. */
  readonly deposits: readonly PaymentView[] | null;
  readonly counts: WaitingCounts | null;
}

/** Asks the lists that have their own pages; each is of one page at most. */
export async function readGlance(
  services: Services,
  actor: Actor,
  { me }: Frame,
  accountId: AccountId,
): Promise<AccountGlance> {
  const paid = allows(me.role, 'see_payments');
  const payments = (show: 'all' | 'deposits_held') =>
    listPayments(services, actor, { accountId, before: null, show });
  return {
    aging: allows(me.role, 'see_statements')
      ? unwrap(await readAccountAging(services, actor, { accountId, asOf: null }))
      : null,
    disputes: allows(me.role, 'see_invoices')
      ? unwrap(await listDisputes(services, actor, { accountId, waitingOnly: true, past: null })).rows
      : null,
    payments: paid ? unwrap(await payments('all')).rows : null,
    deposits: paid ? unwrap(await payments('deposits_held')).rows : null,
    counts: allows(me.role, 'see_all_work_orders')
      ? unwrap(await countWaiting(services, actor, { accountId }))
      : null,
  };
}
