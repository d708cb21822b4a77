import { findPayment } from '@grainwright/db';
import { ok, type PaymentId, type Result, refuse } from '@grainwright/domain';
import { type Actor, perform } from '../perform.ts';
import type { Services } from '../services.ts';
import { type PaymentView, paymentViewOf } from './payment-view.ts';

/** One payment; for a contact only of the own account. */
export function readPayment(services: Services, actor: Actor, id: PaymentId): Promise<Result<PaymentView>> {
  return perform(services, actor, 'see_payments', async (scope) => {
    const found = await findPayment(scope.tx, id);
    if (found === null || (actor.accountId !== null && found.accountId !== actor.accountId))
      return refuse('not_found', 'There is no such payment.');
    return ok(await paymentViewOf(scope, id));
  });
}
