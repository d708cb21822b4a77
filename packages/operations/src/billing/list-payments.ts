import { findPayment, listApplicationsOfPayments, listPayments as listPaymentRows } from '@grainwright/db';
import { type AccountId, ok, type PaymentId, type Result, refuse } from '@grainwright/domain';
import { type Actor, perform } from '../perform.ts';
import type { Services } from '../services.ts';
import { type PaymentView, paymentView } from './payment-view.ts';

export interface ListPaymentsInput {
  /** Null: of every account. A contact sees the own account's whatever stands here. */
  readonly accountId: AccountId | null;
  /** The payment that a page before ended with; null for the latest. */
  readonly before: PaymentId | null;
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
  return perform(services, actor, 'see_payments', async ({ tx }) => {
    const before = input.before === null ? null : await findPayment(tx, input.before);
    if (input.before !== null && before === null)
      return refuse('not_found', 'There is no such payment to go on from.', 'before');
    const accountId = actor.accountId ?? input.accountId;
    const found = await listPaymentRows(tx, { accountId, before, limit: rowsOfAPage + 1 });
    const shown = found.slice(0, rowsOfAPage);
    const ids = shown.map((payment) => payment.id);
    const applications = ids.length === 0 ? [] : await listApplicationsOfPayments(tx, ids);
    return ok({
      rows: shown.map((payment) => paymentView(payment, applications)),
      next: found.length > rowsOfAPage ? (ids.at(-1) ?? null) : null,
    });
  });
}
