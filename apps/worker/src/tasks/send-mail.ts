import { type MailId, toId } from '@grainwright/domain';
import { type MailCarrier, type OpenedServices, sendMail } from '@grainwright/operations';
import type { Task } from 'graphile-worker';
import { readSubject } from '../job-subject.ts';

/** Sends one mail, or keeps it where no mail server is named. A failure that may pass is thrown, to be tried again. */
export function sendMailTask(
  { services }: Pick<OpenedServices, 'services'>,
  carrier: MailCarrier | null,
): Task {
  return async (payload) => {
    const { tenantId, subjectId } = readSubject(payload);
    const sent = await sendMail(services, { tenantId, mailId: toId<MailId>(subjectId), carrier });
    if (!sent.ok) throw new Error(sent.problem.detail);
  };
}
