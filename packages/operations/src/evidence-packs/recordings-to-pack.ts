import {
  findRecordingFile,
  listRecordings,
  type RecordingFileRow,
  type ShownRecordingRow,
  type TenantTransaction,
} from '@grainwright/db';
import type { WorkOrderId } from '@grainwright/domain';

/** A recording with those of its files that the transaction’s role may open. */
export interface PackedRecording {
  readonly recording: ShownRecordingRow;
  readonly film: RecordingFileRow | null;
  readonly poster: RecordingFileRow | null;
}

export async function recordingsToPack(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
): Promise<readonly PackedRecording[]> {
  const recordings = await listRecordings(tx, workOrderId);
  return Promise.all(
    recordings.map(async (recording) => ({
      recording,
      film: await findRecordingFile(tx, recording.id, 'film'),
      poster: await findRecordingFile(tx, recording.id, 'poster'),
    })),
  );
}
