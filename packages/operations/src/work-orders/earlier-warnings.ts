import { findKnownVehicle, findOtherOfOwnNumber } from '@grainwright/db';
import { dayWords, type WorkOrderId, workOrderStates } from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { type EarlierWorkView, earlierWork } from './earlier-work.ts';

/**
 * Another vehicle under the same number, the same vehicle written up for another account lately, and what of it is still
 * under warranty, in sentences. The same account’s work of late was laid beside the write-up before it was saved.
 */
export async function earlierWarnings(scope: Scope, workOrderId: WorkOrderId): Promise<readonly string[]> {
  const earlier = (await earlierWork(scope, workOrderId)) ?? [];
  const vehicle = await findKnownVehicle(scope.tx, workOrderId);
  const elsewhere = earlier.filter((each) => each.maybeDuplicate && each.accountId !== vehicle?.accountId);
  const underWarranty = earlier.filter((each) => each.maybeComeback && !each.maybeDuplicate);
  return [
    ...(await otherVehicle(scope, workOrderId)),
    ...elsewhere.slice(0, 3).map(alsoWrittenUp),
    ...underWarranty.slice(0, 3).map((each) => stillUnderWarranty(each, scope.business.warrantyDays)),
  ];
}

function stillUnderWarranty({ number, day, lines }: EarlierWorkView, warrantyDays: number): string {
  const what = lines.map(({ words }) => words).join('; ');
  return `${what} was repaired on WO-${number} on ${dayWords(day)}, within the ${warrantyDays} days of the warranty. If that came back, make it a rework without charge.`;
}

function alsoWrittenUp({ number, day, state, technician, accountName, lines }: EarlierWorkView): string {
  const what = lines.length === 0 ? 'no line yet' : lines.map(({ words }) => words).join('; ');
  return `This vehicle was written up on ${dayWords(day)} too, WO-${number} for ${accountName} by ${technician} (${workOrderStates[state]}): ${what}. Is this another damage?`;
}

/** A number typed wrong leads to another vehicle’s VIN. */
async function otherVehicle(scope: Scope, workOrderId: WorkOrderId): Promise<readonly string[]> {
  const known = await findKnownVehicle(scope.tx, workOrderId);
  if (known === null || known.ownNumber === '' || known.lastEight === null) return [];
  const { accountId, ownNumber, lastEight } = known;
  const other = await findOtherOfOwnNumber(scope.tx, accountId, ownNumber, lastEight);
  if (other === null) return [];
  return [
    `${ownNumber} stands for a VIN ending in ${other.lastEight} on WO-${other.number}, not in ${lastEight}. Look at the number and the VIN again.`,
  ];
}
