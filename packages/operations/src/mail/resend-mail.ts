import { enqueueJob, findMail, findShownDeletion, requeueMail } from '@grainwright/db';
import { type MailId, ok, type Result, refuse } from '@grainwright/domain';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { refuseDeleted } from '../retention/deletion-words.ts';
import type { Services } from '../services.ts';

/** Tries a mail again that did not go out, or waits for too long; refuses with `wrong_state` one that was sent. */
export function resendMail(services: Services, actor: Actor, id: MailId): Promise<Result<MailId>> {
  return performAsStaff(services, actor, 'issue_statement', async (scope) => {
    if ((await findMail(scope.tx, id)) === null) return refuse('not_found', 'There is no such mail.');
    const deleted = await refuseDeleted(scope.tx, 'mails', { id, what: 'What this mail said', sha256: null });
    if (deleted !== null) return deleted;
    return (await sendAgain(scope, id))
      ? ok(id)
      : refuse('wrong_state', 'This mail was sent. Only one that was not can be tried again.');
  });
}

/** Asks the worker once more for a mail; false when it was sent, or a rule let go of its words. Its job has one key, so none is there twice. */
export async function sendAgain(scope: Scope, id: MailId): Promise<boolean> {
  if ((await findShownDeletion(scope.tx, 'mails', id)) !== null) return false;
  if (!(await requeueMail(scope.tx, id))) return false;
  await record(scope, 'mail_requeued', { kind: 'mail', id });
  await enqueueJob(scope.tx, 'send_mail', id);
  return true;
}
