import { findPayment, listApplicationsOfPayments } from '@grainwright/db';
import { ok, type PaymentId, type Result, refuse } from '@grainwright/domain';
import { type Actor, perform } from '../perform.ts';
import type { Services } from '../services.ts';
import { type PaymentView, paymentView } from './payment-view.ts';

/** One payment; for a contact only of the own account. */
export function readPayment(services: Services, actor: Actor, id: PaymentId): Promise<Result<PaymentView>> {
  return perform(services, actor, 'see_payments', async ({ tx }) => {
    const found = await findPayment(tx, id);
    if (found === null || (actor.accountId !== null && found.accountId !== actor.accountId))
      return refuse('not_found', 'There is no such payment.');
    return ok(paymentView(found, await listApplicationsOfPayments(tx, [id])));
  });
}
