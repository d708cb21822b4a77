import { join } from 'node:path';
import { openServices } from '@grainwright/operations';
import { type Runner, run } from 'graphile-worker';
import { jobLog } from './job-log.ts';
import { readSettings } from './settings.ts';
import { smtpCarrier } from './smtp-carrier.ts';
import { askForApprovalTask } from './tasks/ask-for-approval.ts';
import { deleteByRuleSchedule, deleteByRuleTask } from './tasks/delete-by-rule.ts';
import { chainAuditTask, closeSealDaysTask, keepChainsSchedule } from './tasks/keep-chains.ts';
import { mailAcceptanceTask } from './tasks/mail-acceptance.ts';
import { mailMessageTask } from './tasks/mail-message.ts';
import { makeCoveredCopiesTask } from './tasks/make-covered-copies.ts';
import { makePhotoDerivativesTask } from './tasks/make-photo-derivatives.ts';
import { passOnAnswerTask } from './tasks/pass-on-answer.ts';
import { removeDeletedTask } from './tasks/remove-deleted.ts';
import { runStatementsTask } from './tasks/run-statements.ts';
import { sealRecordsTask } from './tasks/seal-records.ts';
import { sendMailTask } from './tasks/send-mail.ts';
import { sweepStorageSchedule, sweepStorageTask } from './tasks/sweep-storage.ts';
import { sweepWaitingSchedule, sweepWaitingTask } from './tasks/sweep-waiting.ts';
import { tellAnswerTask } from './tasks/tell-answer.ts';

/** Starts the worker: prints one line when it takes jobs, and on SIGTERM or SIGINT ends after those under way. */
async function main(): Promise<void> {
  const settings = readSettings(process.env);
  const opened = await openServices({
    loginUrl: settings.loginUrl,
    objectsFolder: join(settings.dataFolder, 'objects'),
    s3: settings.s3,
    publicUrl: settings.publicUrl,
    connections: 4,
  });
  const runner = await run({
    connectionString: settings.jobsUrl,
    schema: 'graphile_worker',
    taskList: {
      make_photo_derivatives: makePhotoDerivativesTask(opened),
      make_covered_copies: makeCoveredCopiesTask(opened),
      delete_by_rule: deleteByRuleTask(opened),
      remove_deleted: removeDeletedTask(opened),
      run_statements: runStatementsTask(opened),
      ask_for_approval: askForApprovalTask(opened),
      pass_on_answer: passOnAnswerTask(opened),
      tell_answer: tellAnswerTask(opened),
      mail_acceptance: mailAcceptanceTask(opened),
      mail_message: mailMessageTask(opened),
      sweep_storage: sweepStorageTask(opened),
      sweep_waiting: sweepWaitingTask(opened),
      seal_records: sealRecordsTask(opened),
      close_seal_days: closeSealDaysTask(opened),
      chain_audit: chainAuditTask(opened),
      send_mail: sendMailTask(opened, settings.smtp === null ? null : smtpCarrier(settings.smtp)),
    },
    concurrency: 2,
    pollInterval: 1000,
    noHandleSignals: true,
    parsedCronItems: [
      ...sweepStorageSchedule,
      ...sweepWaitingSchedule,
      ...deleteByRuleSchedule,
      ...keepChainsSchedule,
    ],
    logger: jobLog,
  });
  endWhenTold(runner);
  // What a process left that died: not only at the next full hour.
  await runner.addJob(
    'sweep_storage',
    {},
    { jobKey: 'sweep_storage', queueName: 'sweep_storage', maxAttempts: 1 },
  );
  process.stdout.write('worker ready\n');
  await runner.promise;
  await opened.close();
}

function endWhenTold(runner: Runner): void {
  let ending = false;
  const end = async () => {
    if (ending) return;
    ending = true;
    // An open pipe would keep the process.
    process.stdin.pause();
    await runner.stop();
  };
  process.on('SIGTERM', end);
  process.on('SIGINT', end);
  if (process.env.STOP_WITH_PARENT === '1') process.stdin.once('end', end).resume();
}

main().catch((error: unknown) => {
  process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
  process.exit(1);
});
