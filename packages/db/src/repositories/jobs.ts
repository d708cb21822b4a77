import { sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';

export type JobTask =
  | 'make_photo_derivatives'
  | 'run_statements'
  | 'send_mail'
  | 'ask_for_approval'
  | 'pass_on_answer'
  | 'tell_answer'
  | 'sweep_waiting'
  | 'mail_message'
  | 'mail_acceptance'
  | 'make_covered_copies'
  | 'remove_deleted'
  | 'seal_records';

/** Asks the worker for something, as part of this transaction: done if and only if it commits. */
export async function enqueueJob(tx: TenantTransaction, task: JobTask, subjectId: string): Promise<void> {
  await tx.execute(sql`select enqueue_job(${task}, ${subjectId}::uuid)`);
}
