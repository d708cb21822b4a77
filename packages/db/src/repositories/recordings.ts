import type { RecordingId, WorkOrderId } from '@grainwright/domain';
import { and, asc, eq, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { recordingFiles, recordings } from '../schema/photo-checks.ts';
import { deletions } from '../schema/retention.ts';
import { deletionOf, shownDeletion } from './deletions.ts';

export type RecordingRow = typeof recordings.$inferSelect;
export type RecordingFileRow = typeof recordingFiles.$inferSelect;

/** More recordings of one work order than anybody makes. */
const recordingsMax = 20;

/** Inserts unless the id is taken; answers whether it did. */
export async function insertRecording(
  tx: TenantTransaction,
  recording: Omit<RecordingRow, 'tenantId'>,
  files: readonly Omit<RecordingFileRow, 'tenantId' | 'recordingId'>[],
): Promise<boolean> {
  const inserted = await tx
    .insert(recordings)
    .values({ tenantId: tx.tenantId, ...recording })
    .onConflictDoNothing()
    .returning({ id: recordings.id });
  if (inserted.length === 0) return false;
  await tx
    .insert(recordingFiles)
    .values(files.map((file) => ({ tenantId: tx.tenantId, recordingId: recording.id, ...file })));
  return true;
}

/** The whole row, as staff see it. */
export async function findRecording(tx: TenantTransaction, id: RecordingId): Promise<RecordingRow | null> {
  const [row] = await tx
    .select()
    .from(recordings)
    .where(and(eq(recordings.tenantId, tx.tenantId), eq(recordings.id, id)));
  return row ?? null;
}

/** What accounts may read as well. */
const shown = {
  id: recordings.id,
  workOrderId: recordings.workOrderId,
  kind: recordings.kind,
  mediaType: recordings.mediaType,
  sha256: recordings.sha256,
  bytes: recordings.bytes,
  seconds: recordings.seconds,
  namesPlace: recordings.namesPlace,
  capturedAt: recordings.capturedAt,
  receivedAt: recordings.receivedAt,
};

export type ShownRecordingRow = Awaited<ReturnType<typeof listRecordings>>[number];

/** The recordings of a work order, oldest first; of those that a rule let go of, that. */
export async function listRecordings(tx: TenantTransaction, workOrderId: WorkOrderId) {
  return tx
    .select({
      ...shown,
      hasPoster: sql<boolean>`exists (select from ${recordingFiles} as poster
        where poster.tenant_id = "recordings"."tenant_id" and poster.recording_id = "recordings"."id"
          and poster.part = 'poster')`,
      deletion: shownDeletion,
    })
    .from(recordings)
    .leftJoin(deletions, deletionOf('recordings', recordings))
    .where(and(eq(recordings.tenantId, tx.tenantId), eq(recordings.workOrderId, workOrderId)))
    .orderBy(asc(recordings.receivedAt), asc(recordings.id))
    .limit(recordingsMax);
}

/** A recording as far as the actor's role sees it. */
export async function findShownRecording(tx: TenantTransaction, id: RecordingId) {
  const [row] = await tx
    .select(shown)
    .from(recordings)
    .where(and(eq(recordings.tenantId, tx.tenantId), eq(recordings.id, id)));
  return row ?? null;
}

/** Null where the actor's role may not open that part. */
export async function findRecordingFile(
  tx: TenantTransaction,
  id: RecordingId,
  part: RecordingFileRow['part'],
): Promise<RecordingFileRow | null> {
  const [row] = await tx
    .select()
    .from(recordingFiles)
    .where(
      and(
        eq(recordingFiles.tenantId, tx.tenantId),
        eq(recordingFiles.recordingId, id),
        eq(recordingFiles.part, part),
      ),
    );
  return row ?? null;
}
