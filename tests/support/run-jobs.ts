import { type MailCarrier, openServices } from '@grainwright/operations';
import { Logger, runOnce } from 'graphile-worker';
import { askForApprovalTask } from '../../apps/worker/src/tasks/ask-for-approval.ts';
import { mailAcceptanceTask } from '../../apps/worker/src/tasks/mail-acceptance.ts';
import { mailMessageTask } from '../../apps/worker/src/tasks/mail-message.ts';
import { makeCoveredCopiesTask } from '../../apps/worker/src/tasks/make-covered-copies.ts';
import { makePhotoDerivativesTask } from '../../apps/worker/src/tasks/make-photo-derivatives.ts';
import { passOnAnswerTask } from '../../apps/worker/src/tasks/pass-on-answer.ts';
import { removeDeletedTask } from '../../apps/worker/src/tasks/remove-deleted.ts';
import { runStatementsTask } from '../../apps/worker/src/tasks/run-statements.ts';
import { sealRecordsTask } from '../../apps/worker/src/tasks/seal-records.ts';
import { sendMailTask } from '../../apps/worker/src/tasks/send-mail.ts';
import { tellAnswerTask } from '../../apps/worker/src/tasks/tell-answer.ts';
import type { World } from './world.ts';

/**
 * Does every job that is due, with the worker's own tasks and the world's clock, and comes back when there is none left.
 * Mail is kept in the mailbox unless there is a carrier.
 */
export async function runJobs(world: World, carrier: MailCarrier | null = null): Promise<void> {
  const opened = await openServices({
    loginUrl: world.loginUrl,
    objectsFolder: world.objectsFolder,
    connections: 2,
    now: world.services.now,
  });
  try {
    await runOnce({
      connectionString: world.adminUrl,
      schema: 'graphile_worker',
      taskList: {
        make_photo_derivatives: makePhotoDerivativesTask(opened),
        make_covered_copies: makeCoveredCopiesTask(opened),
        remove_deleted: removeDeletedTask(opened),
        run_statements: runStatementsTask(opened),
        ask_for_approval: askForApprovalTask(opened),
        pass_on_answer: passOnAnswerTask(opened),
        tell_answer: tellAnswerTask(opened),
        mail_acceptance: mailAcceptanceTask(opened),
        mail_message: mailMessageTask(opened),
        seal_records: sealRecordsTask(opened),
        send_mail: sendMailTask(opened, carrier),
      },
      parsedCronItems: [],
      logger: new Logger(() => () => undefined),
    });
  } finally {
    await opened.close();
  }
}
