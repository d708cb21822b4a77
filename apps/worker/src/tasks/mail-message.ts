import { type MessageId, toId } from '@grainwright/domain';
import { mailMessage, type OpenedServices } from '@grainwright/operations';
import type { Task } from 'graphile-worker';
import { readSubject } from '../job-subject.ts';

/** Mails a message to the other side. A failure is thrown, and the library tries again later. */
export function mailMessageTask({ services }: Pick<OpenedServices, 'services'>): Task {
  return async (payload) => {
    const { tenantId, subjectId } = readSubject(payload);
    const mailed = await mailMessage(services, { tenantId, messageId: toId<MessageId>(subjectId) });
    if (!mailed.ok) throw new Error(mailed.problem.detail);
  };
}
