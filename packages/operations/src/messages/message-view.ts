import { listMessages } from '@grainwright/db';
import type { Instant, MessageId, WorkOrderId } from '@grainwright/domain';
import type { Scope } from '../perform.ts';

/** So many are kept on one work order. */
export const messagesMax = 200;

/** What somebody wrote on a work order. */
export interface MessageView {
  readonly id: MessageId;
  readonly side: 'account' | 'business';
  readonly author: string;
  readonly text: string;
  readonly writtenAt: Instant;
}

/** All messages on a work order, the first one first. */
export async function loadMessages(
  { tx }: Pick<Scope, 'tx'>,
  workOrderId: WorkOrderId,
): Promise<readonly MessageView[]> {
  const rows = await listMessages(tx, workOrderId, messagesMax);
  return rows.map(({ id, side, authorName, text, writtenAt }) => ({
    id,
    side,
    author: authorName ?? '',
    text,
    writtenAt,
  }));
}
