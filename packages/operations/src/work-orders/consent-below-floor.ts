import { findVisit, listFloorConsents, listWorkOrderLines } from '@grainwright/db';
import {
  floorOf,
  formatMinor,
  type LineId,
  ok,
  parseMoney,
  type Result,
  refuse,
  type VisitId,
  type WorkOrderId,
  type WorkOrderState,
} from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { openWorkOrder } from '../work-order-path.ts';
import {
  type FlooredLine,
  flooredLines,
  keepConsent,
  mayStillBeSent,
  needsConsent,
  readConsentReason,
} from './below-floor.ts';
import { loadPricing, priceLines } from './price-lines.ts';

export interface ConsentBelowFloorInput {
  readonly workOrderId: WorkOrderId;
  /** The line consented to; every other one stays as it is. */
  readonly lineId: LineId;
  /** The price before further repairs that may be charged for it: the one it has, or one it shall get. */
  readonly price: string;
  readonly reason: string;
}

/**
 * Consents to a line's price below the floor, with a reason; only the owner of the business may. It holds for that line
 * at that price and above: a lower one asks again. Consenting again changes nothing. Refuses with `wrong_state` where
 * nothing can be sent any more, `invalid_money` a price that is not below the floor, `not_found` or `invalid_input`.
 */
export function consentBelowFloor(
  services: Services,
  actor: Actor,
  input: ConsentBelowFloorInput,
): Promise<Result<{ readonly state: WorkOrderState }>> {
  return performAsStaff(services, actor, 'consent_below_floor', async (scope) => {
    const { currency } = scope.business;
    const read = everyResult({
      priceMinor: parseMoney(input.price, { currency, field: 'price' }),
      reason: readConsentReason(input.reason, 'reason'),
    });
    if (!read.ok) return read;
    const opened = await openWorkOrder(scope, input.workOrderId);
    if (!opened.ok) return opened;
    const { state } = opened.value;
    if (!mayStillBeSent(state))
      return refuse('wrong_state', 'Its price stands. There is nothing to consent to any more.');
    const line = await findFloored(scope, opened.value, input.lineId);
    if (!line.ok) return line;
    const priceMinor = read.value.priceMinor;
    const floorMinor = floorOf(line.value);
    if (priceMinor >= floorMinor)
      return refuse(
        'invalid_money',
        `The floor of “${line.value.label}” is ${formatMinor(floorMinor, currency)}: at that price nobody has to consent.`,
        'price',
      );
    const consents = await listFloorConsents(scope.tx, input.workOrderId);
    if (needsConsent({ ...line.value, priceMinor }, consents))
      await keepConsent(scope, { ...line.value, priceMinor }, input.workOrderId, read.value.reason);
    return ok({ state });
  });
}

async function findFloored(
  scope: Scope,
  { id, visitId, reworkOfId }: { id: WorkOrderId; visitId: VisitId; reworkOfId: WorkOrderId | null },
  lineId: LineId,
): Promise<Result<FlooredLine>> {
  const visit = await findVisit(scope.tx, visitId);
  if (visit === null) throw new Error('a work order names a visit that is not there');
  const pricing = await loadPricing(scope, visit, reworkOfId !== null);
  if (!pricing.ok) return pricing;
  const rows = await listWorkOrderLines(scope.tx, id);
  const { priced } = priceLines(rows, pricing.value);
  const line = flooredLines(rows, priced, pricing.value).find((each) => each.lineId === lineId);
  return line === undefined
    ? refuse('not_found', 'This work order has no such line with a floor. Open it again.')
    : ok(line);
}
