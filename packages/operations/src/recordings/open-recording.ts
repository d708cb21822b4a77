import type { Readable } from 'node:stream';
import { findRecordingFile, findShownRecording, type RecordingFileRow } from '@grainwright/db';
import { ok, type RecordingId, type Result, refuse } from '@grainwright/domain';
import { type ByteRange, toObjectKey } from '@grainwright/evidence';
import { type Actor, perform, type Scope } from '../perform.ts';
import { refuseDeleted } from '../retention/deletion-words.ts';
import type { Services } from '../services.ts';

export interface OpenRecordingInput {
  readonly recordingId: RecordingId;
  readonly part: RecordingFileRow['part'];
  /** Which bytes of how many are wanted; null for all of them. */
  readonly range: (bytes: number, sha256: string) => ByteRange | null;
}

export interface OpenedRecording {
  readonly sha256: string;
  readonly mediaType: string;
  /** Of the whole file. */
  readonly bytes: number;
  readonly range: ByteRange | null;
  /** A name of ours for whoever saves it. */
  readonly fileName: string;
  readonly stream: Readable;
}

/**
 * Opens a recording or the picture that stands for it, whole or in part. One that says where it was made is for the
 * staff only; whoever sees the work order sees the picture. Refuses with `not_found` or `deleted_by_rule`.
 */
export async function openRecording(
  services: Services,
  actor: Actor,
  input: OpenRecordingInput,
): Promise<Result<OpenedRecording>> {
  const found = await perform(services, actor, 'see_work_orders', (scope) => locate(scope, input));
  if (!found.ok) return found;
  const { file, mediaType } = found.value;
  const bytes = Number(file.bytes);
  const range = input.range(bytes, file.sha256);
  const key = toObjectKey(file.storageKey);
  const object =
    range === null ? await services.objects.open(key) : await services.objects.openRange(key, range);
  if (object === null) throw new Error(`the object store lacks ${file.storageKey}`);
  const fileName = `${input.recordingId}-${input.part}.${extensions[mediaType] ?? 'bin'}`;
  return ok({ sha256: file.sha256, mediaType, bytes, range, fileName, stream: object.stream });
}

const extensions: Readonly<Record<string, string>> = {
  'image/jpeg': 'jpg',
  'video/webm': 'webm',
  'video/mp4': 'mp4',
  'video/quicktime': 'mov',
};

async function locate(
  { tx }: Scope,
  { recordingId, part }: OpenRecordingInput,
): Promise<Result<{ readonly file: RecordingFileRow; readonly mediaType: string }>> {
  const recording = await findShownRecording(tx, recordingId);
  const file = recording === null ? null : await findRecordingFile(tx, recordingId, part);
  if (recording === null || file === null) return refuse('not_found', 'There is no such recording.');
  const { sha256 } = recording;
  const deleted = await refuseDeleted(tx, 'recordings', { id: recordingId, what: 'This recording', sha256 });
  if (deleted !== null) return deleted;
  return ok({ file, mediaType: part === 'poster' ? 'image/jpeg' : recording.mediaType });
}
