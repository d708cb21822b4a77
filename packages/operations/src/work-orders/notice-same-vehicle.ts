import { insertWorkOrderStep, type KnownVehicle } from '@grainwright/db';
import {
  type Day,
  dayWords,
  ok,
  type Result,
  refuse,
  type WorkOrderId,
  workOrderStates,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { type EarlierWorkView, earlierWorkOf } from './earlier-work.ts';

/**
 * Notices, before anything is saved, that the account's vehicle was written up lately. Somebody has to say that it is
 * another damage; until then it is refused with `duplicate`. Answers with what it was noticed beside.
 */
export async function noticeSameVehicle(
  scope: Scope,
  vehicle: KnownVehicle & { readonly day: Day },
  anotherDamage: boolean,
): Promise<Result<readonly EarlierWorkView[]>> {
  const lately = latelyAt(vehicle.accountId, await earlierWorkOf(scope, vehicle, null));
  const [newest] = lately;
  if (newest === undefined || anotherDamage) return ok(lately);
  const back = newest.maybeComeback ? ', make it a rework if that work came back' : '';
  return refuse(
    'duplicate',
    `This vehicle was written up lately: ${nameOf(newest)}. If it is the same damage, open WO-${newest.number} instead${back}; if it is another damage, say so and write it up.`,
    'another_damage',
  );
}

/** Of the same account, and so lately that it may be the same damage. */
export function latelyAt(
  accountId: KnownVehicle['accountId'],
  earlier: readonly EarlierWorkView[],
): readonly EarlierWorkView[] {
  return earlier.filter((each) => each.maybeDuplicate && each.accountId === accountId);
}

/** Keeps on record that somebody went on, and past what. */
export async function keepAnotherDamage(
  scope: Scope,
  workOrderId: WorkOrderId,
  lately: readonly EarlierWorkView[],
): Promise<void> {
  if (lately.length === 0) return;
  await insertWorkOrderStep(scope.tx, {
    id: scope.newId(),
    workOrderId,
    event: 'another_damage',
    toState: 'written_up',
    personId: scope.actor.personId,
    happenedAt: scope.now,
    note: `Another damage than on ${lately.map(nameOf).join(', ')}.`,
  });
}

function nameOf({ number, day, state, technician }: EarlierWorkView): string {
  return `WO-${number} of ${dayWords(day)} by ${technician} (${workOrderStates[state]})`;
}
