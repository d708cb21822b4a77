import { listLineAnswers, type WorkInHand } from '@grainwright/db';
import {
  ok,
  type Result,
  refuse,
  type ShownPrices,
  type WorkOrderId,
  workOrderStates,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import type { FromTheBusiness } from './acceptance-to-show.ts';

/** What the business itself adds to an acceptance of finished work. Refuses with `wrong_state` or `already_accepted`. */
export async function acceptanceFacts(
  scope: Pick<Scope, 'tx' | 'business'>,
  work: WorkInHand,
): Promise<Result<FromTheBusiness>> {
  const { workOrder, account, approved } = work;
  if (['accepted', 'invoiced', 'paid', 'written_off'].includes(workOrder.state))
    return refuse('already_accepted', 'This work is accepted already. What was signed stays as it is.');
  if (workOrder.state !== 'done' || approved === null)
    return refuse(
      'wrong_state',
      `This work order is “${workOrderStates[workOrder.state]}”. Finish the work before asking for its acceptance.`,
    );
  const ownNumbers =
    account.ownNumberKind === null || workOrder.ownNumber === ''
      ? []
      : [{ kind: account.ownNumberKind, number: workOrder.ownNumber }];
  return ok({
    workOrderId: workOrder.id,
    versionId: approved.versionId,
    ownNumbers,
    prices: account.showsPricesAtAcceptance ? await pricesOf(scope, workOrder.id, approved.totalMinor) : null,
  });
}

/** Only where the business chose to show them to this account. */
async function pricesOf(
  scope: Pick<Scope, 'tx' | 'business'>,
  workOrderId: WorkOrderId,
  totalMinor: bigint,
): Promise<ShownPrices> {
  const lines = await listLineAnswers(scope.tx, workOrderId);
  return {
    currency: scope.business.currency,
    netMinor: lines.filter((line) => line.answer === 'approved').map((line) => line.netMinor),
    totalMinor,
  };
}
