import { findKnownVehicle, findOtherOfOwnNumber } from '@grainwright/db';
import { dayWords, type WorkOrderId, workOrderStates } from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { type EarlierWorkView, earlierWork } from './earlier-work.ts';

/** What else was written up of this vehicle lately, and another vehicle under the same number, in sentences. */
export async function earlierWarnings(scope: Scope, workOrderId: WorkOrderId): Promise<readonly string[]> {
  const earlier = (await earlierWork(scope, workOrderId)) ?? [];
  const lately = earlier.filter(({ maybeDuplicate }) => maybeDuplicate).slice(0, 3);
  return [...(await otherVehicle(scope, workOrderId)), ...lately.map(alsoWrittenUp)];
}

function alsoWrittenUp({ number, day, state, technician, lines }: EarlierWorkView): string {
  const what = lines.length === 0 ? 'no line yet' : lines.map(({ words }) => words).join('; ');
  return `This vehicle was written up on ${dayWords(day)} too, WO-${number} by ${technician} (${workOrderStates[state]}): ${what}. Is this another damage?`;
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
