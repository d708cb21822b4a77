import { countMessages, enqueueJob, findMessage, insertMessage, type ShownMessage } from '@grainwright/db';
import { addSeconds, type MessageId, ok, type Result, refuse, type WorkOrderId } from '@grainwright/domain';
import { type Actor, perform, record, type Scope } from '../perform.ts';
import { readWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { openWorkOrder } from '../work-order-path.ts';
import { messagesMax } from './message-view.ts';

export interface WriteMessageInput {
  /** Made by the client: the same message sent again under it counts once. */
  readonly id: MessageId;
  readonly workOrderId: WorkOrderId;
  readonly text: string;
}

const byPersonAndHourMax = 30;
const hourSeconds = 3600;

/**
 * Writes on a work order, for the account or the business, whichever the actor is of; the other side gets it by mail.
 * Refuses with `not_found`, `invalid_input`, `too_many_requests` or `id_reused`.
 */
export function writeMessage(
  services: Services,
  actor: Actor,
  { id, workOrderId, text }: WriteMessageInput,
): Promise<Result<MessageId>> {
  return perform(services, actor, 'write_message', async (scope) => {
    const opened = await openWorkOrder(scope, workOrderId);
    if (!opened.ok) return opened;
    const words = readWords(text, 'text', 'your message', 2000);
    if (!words.ok) return words;
    const side: ShownMessage['side'] = actor.accountId === null ? 'business' : 'account';
    const said = { workOrderId, side, authorId: actor.personId, text: words.value };
    const earlier = await findMessage(scope.tx, id);
    if (earlier !== null) return sameContent(earlier, said) ? ok(id) : reusedId;
    const room = await checkRoom(scope, workOrderId);
    if (!room.ok) return room;
    const { accountId } = opened.value;
    const message = { id, accountId, ...said, writtenAt: scope.now, linkId: actor.linkId ?? null };
    if (!(await insertMessage(scope.tx, message))) return reusedId;
    await record(scope, 'message_written', { kind: 'message', id }, { work_order_id: workOrderId, side });
    await enqueueJob(scope.tx, 'mail_message', id);
    return ok(id);
  });
}

const reusedId = refuse(
  'id_reused',
  'This id was already used for another message. Open the page again.',
  'id',
);

/** Under the work order's lock, so that two at once are counted too. */
async function checkRoom({ tx, actor, now }: Scope, workOrderId: WorkOrderId): Promise<Result<true>> {
  const since = addSeconds(now, -hourSeconds);
  const written = await countMessages(tx, { workOrderId, authorId: actor.personId, since });
  if (written.onWorkOrder >= messagesMax)
    return refuse(
      'too_many_requests',
      `There are ${messagesMax} messages on this work order, and no more are taken. Use the telephone.`,
      'text',
    );
  if (written.byAuthor >= byPersonAndHourMax)
    return refuse(
      'too_many_requests',
      `You have written ${byPersonAndHourMax} messages within the hour. Wait a little, or use the telephone.`,
      'text',
    );
  return ok(true);
}
