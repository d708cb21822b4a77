import {
  type FloorConsentRow,
  insertFloorConsent,
  listFloorConsents,
  type WorkOrderLineRow,
} from '@grainwright/db';
import {
  allows,
  belowFloorSentence,
  type FloorQuestion,
  floorOf,
  type LineId,
  listWithFactors,
  ok,
  type PricedLine,
  type Result,
  refuse,
  transition,
  type WorkOrderId,
  type WorkOrderState,
} from '@grainwright/domain';
import { record, type Scope } from '../perform.ts';
import { readWords } from '../read-input.ts';
import { factsOfLines } from './line-facts.ts';
import { bookedRate, type Pricing } from './price-lines.ts';

/** A line with a floor, and the price it has. */
export interface FlooredLine extends FloorQuestion {
  readonly lineId: LineId;
}

/**
 * The lines of a work order that have a floor: of list with its care factors, or for a price by hand of the rate that
 * it passes over. What is without charge anyhow, as a rework, has none; nor has a line that the price book doesn't know.
 */
export function flooredLines(
  rows: readonly WorkOrderLineRow[],
  priced: readonly PricedLine[],
  pricing: Pricing,
): readonly FlooredLine[] {
  const { floorPercent, rules } = pricing;
  if (floorPercent === null || rules.vehicle.rework) return [];
  return factsOfLines(rows).flatMap(({ row, label, lineId }) => {
    const line = priced.find((each) => each.lineId === lineId);
    if (line === undefined) return [];
    const listMinor = line.byHand === null ? line.afterFactorMinor : listPassedOver(row, pricing);
    if (listMinor === null) return [];
    return [{ lineId, label, priceMinor: line.beforeFurtherMinor, listMinor, floorPercent }];
  });
}

/** What the price book lists a line at that is priced by hand, with its care factors; null where it has no rate. */
function listPassedOver(row: WorkOrderLineRow, pricing: Pricing): bigint | null {
  const rate = bookedRate(row, pricing);
  if (rate === null) return null;
  const careFactors = row.factorCode === null ? [] : [row.factorCode];
  return listWithFactors(rate, careFactors, pricing.book, pricing.rateDay);
}

/** Whether an estimate of a work order in this state can still be sent, or sent anew. */
export function mayStillBeSent(state: WorkOrderState): boolean {
  return state === 'written_up' || transition(state, { type: 'price_changed', change: 'other' }).ok;
}

/** Whether a price is below its floor and the owner has not consented to one as low, below a floor as high. */
export function needsConsent(
  line: FlooredLine,
  consents: readonly Pick<FloorConsentRow, 'lineId' | 'priceMinor' | 'floorMinor'>[],
): boolean {
  const floorNow = floorOf(line);
  if (line.priceMinor >= floorNow) return false;
  return !consents.some(
    ({ lineId, priceMinor, floorMinor }) =>
      lineId === line.lineId && priceMinor <= line.priceMinor && floorMinor >= floorNow,
  );
}

/**
 * Refuses with `below_floor` the first line that the owner of the business would have to consent to. Where it is the
 * owner who sends it, with a reason, they consent with that.
 */
export async function checkFloor(
  scope: Scope,
  {
    workOrderId,
    floorReason = '',
  }: { readonly workOrderId: WorkOrderId; readonly floorReason?: string | undefined },
  lines: readonly FlooredLine[],
): Promise<Result<true>> {
  const below = lines.filter((line) => needsConsent(line, []));
  if (below.length === 0) return ok(true);
  const consents = await listFloorConsents(scope.tx, workOrderId);
  const open = below.filter((line) => needsConsent(line, consents));
  const [first] = open;
  if (first === undefined) return ok(true);
  const consentsNow = floorReason.trim() !== '' && allows(scope.member.role, 'consent_below_floor');
  if (!consentsNow) return refuse('below_floor', belowFloorSentence(first, scope.business.currency), 'lines');
  const reason = readConsentReason(floorReason, 'floor_reason');
  if (!reason.ok) return reason;
  for (const line of open) await keepConsent(scope, line, workOrderId, reason.value);
  return ok(true);
}

export function readConsentReason(text: string, field: string): Result<string> {
  return readWords(text, field, 'why this price may be charged', 500);
}

/** Puts a consent on record. What the account reads says nothing of it. */
export async function keepConsent(
  scope: Scope,
  line: FlooredLine,
  workOrderId: WorkOrderId,
  reason: string,
): Promise<void> {
  const { lineId, priceMinor } = line;
  const floorMinor = floorOf(line);
  await insertFloorConsent(scope.tx, {
    id: scope.newId(),
    workOrderId,
    lineId,
    priceMinor,
    floorMinor,
    reason,
    consentedBy: scope.actor.personId,
    consentedAt: scope.now,
  });
  await record(
    scope,
    'below_floor_consented',
    { kind: 'work_order', id: workOrderId },
    {
      line_id: lineId,
      price_minor: priceMinor.toString(),
      floor_minor: floorMinor.toString(),
      reason,
    },
  );
}
