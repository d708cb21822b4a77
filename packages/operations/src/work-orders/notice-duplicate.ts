import { insertWorkOrderStep, type WorkOrderRow } from '@grainwright/db';
import { dayWords, ok, type Result, refuse, workOrderStates } from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { earlierWork, sameDamage } from './earlier-work.ts';
import type { LineFacts } from './line-facts.ts';

/**
 * Notices the same part of the same vehicle that was written up lately, or that may come back under the warranty. Somebody has to say that it is another damage,
 * which stays on record; until then it is refused with `duplicate`. A rework is of its first order’s parts by nature.
 */
export async function noticeDuplicate(
  scope: Scope,
  workOrder: WorkOrderRow,
  line: Pick<LineFacts, 'label' | 'part' | 'side' | 'repairsDamage'>,
  anotherDamage: boolean,
): Promise<Result<true>> {
  const earlier = (await earlierWork(scope, workOrder.id)) ?? [];
  const others = earlier.filter(({ id }) => id !== workOrder.reworkOfId);
  const same = sameDamage(others, line);
  if (same === null) return ok(true);
  const { number, day, state, technician, maybeComeback } = same.workOrder;
  const which = `WO-${number} of ${dayWords(day)} by ${technician} (${workOrderStates[state]})`;
  if (!anotherDamage)
    return refuse(
      'duplicate',
      maybeComeback
        ? `This part was repaired on WO-${number} on ${dayWords(day)}, within the ${scope.business.warrantyDays} days of the warranty: ${same.words}. If that came back, make it a rework without charge; if it is another damage, say so and go on.`
        : `${which} has this part of this vehicle already: ${same.words}. If it is the same damage, void this one as a duplicate; if it is another damage, say so and go on.`,
      'another_damage',
    );
  await insertWorkOrderStep(scope.tx, {
    id: scope.newId(),
    workOrderId: workOrder.id,
    event: 'another_damage',
    toState: workOrder.state,
    personId: scope.actor.personId,
    happenedAt: scope.now,
    note: `${line.label}: another damage than on ${which}.`,
  });
  return ok(true);
}
