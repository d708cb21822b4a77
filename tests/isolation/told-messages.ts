import type { MessageId, WorkOrderId } from '@grainwright/domain';
import { type Actor, writeMessage } from '@grainwright/operations';
import { must } from '../support/world.ts';
import type { Teller } from './told-work.ts';

/** A question of the account's and two answers, on one work order. */
export async function tellMessages({ account, approver, word }: Teller, workOrderId: WorkOrderId) {
  const { world, technician, office } = account.business;
  const write = async (actor: Actor, text: string) =>
    must(await writeMessage(world.services, actor, { id: world.newId<MessageId>(), workOrderId, text }));
  return {
    accountMessage: await write(approver, `${word} asks whether the seam has to come off`),
    message: await write(technician, `for ${word}: it stays on`),
    officeMessage: await write(office, `for ${word}: and it costs nothing`),
  };
}
