import {
  clearMailWords,
  type DeletionRow,
  type DueRow,
  enqueueJob,
  findRetentionSwitch,
  insertDeletions,
  listDue,
  listSubjectFiles,
  listUnremovedDeletions,
  lockRetention,
  type TenantTransaction,
} from '@grainwright/db';
import {
  type DeletionId,
  ok,
  type Result,
  type RetentionKind,
  retentionKinds,
  type TenantId,
  toId,
} from '@grainwright/domain';
import { type JobScope, jobScope } from '../job-scope.ts';
import { record } from '../perform.ts';
import type { Services } from '../services.ts';

type DeletingServices = Pick<Services, 'database' | 'now' | 'newId'>;

export interface DeletedByRule {
  /** False where the owner has not switched it on: then nothing happened. */
  readonly isOn: boolean;
  readonly count: number;
  readonly bytes: bigint;
}

const batchMax = 100;
const unremovedMax = 1000;

/**
 * Puts everything on record as deleted whose time is over and that no hold keeps, batch by batch, each in a transaction
 * with the job that removes its bytes; the words of mails go with it. Stopped anywhere, it goes on at the next run.
 * Nothing happens unless the owner of the business switched it on; the record names whoever did.
 */
export async function deleteByRule(
  services: DeletingServices,
  tenantId: TenantId,
): Promise<Result<DeletedByRule>> {
  const asStaff = { role: 'staff', tenantId } as const;
  let count = 0;
  let bytes = 0n;
  for (;;) {
    const batch = await services.database.withTenant(asStaff, (tx) => deleteBatch(services, tx));
    if (!batch.ok) return batch;
    if (batch.value === null) return ok({ isOn: false, count, bytes });
    count += batch.value.length;
    bytes += batch.value.reduce((sum, row) => sum + row.bytes, 0n);
    if (batch.value.length < batchMax) break;
  }
  const left = await services.database.withTenant(asStaff, async (tx) => {
    // Whose job was given up while the store did not answer.
    for (const id of await listUnremovedDeletions(tx, unremovedMax))
      await enqueueJob(tx, 'remove_deleted', id);
    return ok(true);
  });
  return left.ok ? ok({ isOn: true, count, bytes }) : left;
}

/** Null where it is not switched on. */
async function deleteBatch(
  services: DeletingServices,
  tx: TenantTransaction,
): Promise<Result<readonly DeletionRow[] | null>> {
  await lockRetention(tx);
  const turn = await findRetentionSwitch(tx);
  if (turn === null || !turn.isOn) return ok(null);
  const scope = await jobScope(services, tx, turn.setBy);
  const due = await listDue(tx, scope.now, batchMax);
  const rows = await deletionsOf(scope, due);
  await insertDeletions(tx, rows);
  await clearMailWords(tx, subjectsOf(rows, 'mails'));
  for (const row of rows) {
    await record(
      scope,
      'deleted_by_rule',
      { kind: subjectKinds[row.kind], id: row.subjectId },
      {
        deletion: row.id,
        rule: row.ruleId,
        work_order_id: row.workOrderId,
        files: row.files.map((file) => file.sha256),
      },
    );
    await enqueueJob(tx, 'remove_deleted', row.id);
  }
  return ok(rows);
}

const subjectKinds = {
  photos: 'photo',
  recordings: 'recording',
  documents: 'statement',
  mails: 'mail',
} as const satisfies Record<RetentionKind, string>;

function subjectsOf(rows: readonly Pick<DeletionRow, 'kind' | 'subjectId'>[], kind: RetentionKind) {
  return rows.filter((row) => row.kind === kind).map((row) => row.subjectId);
}

async function deletionsOf(
  { tx, now, newId }: JobScope,
  due: readonly DueRow[],
): Promise<readonly DeletionRow[]> {
  const files = (
    await Promise.all(
      (Object.keys(retentionKinds) as RetentionKind[]).map((kind) =>
        listSubjectFiles(tx, kind, subjectsOf(due, kind)),
      ),
    )
  ).flat();
  return due.map(({ kind, subjectId, workOrderId, accountId, endedOn, ruleId, period, unit }) => {
    const own = files.filter((file) => file.subjectId === subjectId);
    return {
      id: toId<DeletionId>(newId()),
      ...{ kind, subjectId, workOrderId, accountId, endedOn, ruleId, period, unit },
      files: own.map(({ subjectId: _subject, ...file }) => file),
      bytes: own.reduce((sum, file) => sum + BigInt(file.bytes), 0n),
      deletedAt: now,
    };
  });
}
