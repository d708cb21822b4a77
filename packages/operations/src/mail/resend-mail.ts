import { enqueueJob, findMail, requeueMail } from '@grainwright/db';
import { type MailId, ok, type Result, refuse } from '@grainwright/domain';
import { type Actor, performAsStaff, record } from '../perform.ts';
import type { Services } from '../services.ts';

/** Tries a mail again that the mail server did not take; refuses with `wrong_state` any other. */
export function resendMail(services: Services, actor: Actor, id: MailId): Promise<Result<MailId>> {
  return performAsStaff(services, actor, 'issue_statement', async (scope) => {
    if ((await findMail(scope.tx, id)) === null) return refuse('not_found', 'There is no such mail.');
    if (!(await requeueMail(scope.tx, id)))
      return refuse('wrong_state', 'This mail did not fail. Only one that was not sent can be tried again.');
    await record(scope, 'mail_requeued', { kind: 'mail', id });
    await enqueueJob(scope.tx, 'send_mail', id);
    return ok(id);
  });
}
