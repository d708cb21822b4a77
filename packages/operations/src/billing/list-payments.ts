import { findPayment, listPayments as listPaymentRows } from '@grainwright/db';
import { type AccountId, ok, type PaymentId, type Result, refuse } from '@grainwright/domain';
import { type Actor, perform } from '../perform.ts';
import type { Services } from '../services.ts';
import { type PaymentView, paymentViews } from './payment-view.ts';

export interface ListPaymentsInput {
  /** Null: of every account. A contact sees the own account's whatever stands here. */
  readonly accountId: AccountId | null;
  /** The payment that a page before ended with; null for the latest. */
  readonly before: PaymentId | null;
  /** `unapplied`: with credit or deposits left; `deposits_held`: those of which something is. All unless given. */
  readonly show?: 'all' | 'unapplied' | 'deposits' | 'deposits_held' | 'returned';
}

export interface PaymentList {
  readonly rows: readonly PaymentView[];
  /** Where the next page goes on; null when this is the last. */
  readonly next: PaymentId | null;
}

const rowsOfAPage = 100;

/** Payments with what they settled, latest received first. */
export function listPayments(
  services: Services,
  actor: Actor,
  input: ListPaymentsInput,
): Promise<Result<PaymentList>> {
  return perform(services, actor, 'see_payments', async (scope) => {
    const { tx } = scope;
    const before = input.before === null ? null : await findPayment(tx, input.before);
    if (input.before !== null && before === null)
      return refuse('not_found', 'There is no such payment to go on from.', 'before');
    const accountId = actor.accountId ?? input.accountId;
    const found = await listPaymentRows(tx, {
      accountId,
      show: input.show ?? 'all',
      before,
      limit: rowsOfAPage + 1,
    });
    const shown = found.slice(0, rowsOfAPage);
    return ok({
      rows: await paymentViews(scope, shown),
      next: found.length > rowsOfAPage ? (shown.at(-1)?.id ?? null) : null,
    });
  });
}
