import { type MailCarrier, openServices } from '@grainwright/operations';
import { Logger, runOnce } from 'graphile-worker';
import { makePhotoDerivativesTask } from '../../apps/worker/src/tasks/make-photo-derivatives.ts';
import { runStatementsTask } from '../../apps/worker/src/tasks/run-statements.ts';
import { sendMailTask } from '../../apps/worker/src/tasks/send-mail.ts';
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
        run_statements: runStatementsTask(opened),
        send_mail: sendMailTask(opened, carrier),
      },
      parsedCronItems: [],
      logger: new Logger(() => () => undefined),
    });
  } finally {
    await opened.close();
  }
}
