import { rm } from 'node:fs/promises';
import type { Readable } from 'node:stream';
import { findRecording, findUpload, insertRecording, type RecordingRow } from '@grainwright/db';
import {
  type Instant,
  ok,
  type RecordingId,
  type Result,
  refuse,
  type UploadId,
  type WorkOrderId,
  type WorkOrderState,
  workOrderStates,
} from '@grainwright/domain';
import { receivePhoto } from '@grainwright/evidence';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { takeUpload, useUpload } from '../uploads/take-upload.ts';
import { openWorkOrder } from '../work-order-path.ts';
import { type KeptRecording, keepRecording } from './keep-recording.ts';

export interface AddRecordingInput {
  /** Made by the client: the same recording sent again under it is kept once. */
  readonly recordingId: RecordingId;
  readonly workOrderId: WorkOrderId;
  /** By the phone's clock; null where it does not say. */
  readonly capturedAt: Instant | null;
  /** How long it is, as the phone counted; null where it does not say. */
  readonly seconds: number | null;
  /** A small picture of it, as the phone took it: JPEG, PNG or WebP. One that can't be read is left out. */
  readonly poster: Uint8Array | null;
  readonly film: RecordingUpload | { readonly uploadId: UploadId };
  /** For files while they come in, on the file system of the object store. */
  readonly directory: string;
}

export interface RecordingUpload {
  readonly stream: Readable;
  readonly truncated: () => boolean;
  readonly bytesMax: number;
}

export interface AddedRecording {
  readonly recordingId: RecordingId;
  readonly sha256: string;
  readonly namesPlace: boolean;
}

/**
 * Keeps a recording of the walk around the vehicle, sent at once or part by part before. Its bytes are durable before
 * its row is written. Refuses with `not_found`, `wrong_state`, `recording_unreadable`, `recording_too_large`,
 * `upload_…` or `id_reused`.
 */
export async function addRecording(
  services: Services,
  actor: Actor,
  input: AddRecordingInput,
): Promise<Result<AddedRecording>> {
  const earlier = await performAsStaff(services, actor, 'write_up', (scope) => checkPlace(scope, input));
  if (!earlier.ok) return earlier;
  const { film, directory } = input;
  if ('uploadId' in film) {
    if (earlier.value !== null) return sameUpload(services, actor, earlier.value, film.uploadId);
    return takeUpload(services, actor, { uploadId: film.uploadId, kind: 'recording', directory }, (file) =>
      keepAndWrite(services, actor, input, file),
    );
  }
  const received = await receivePhoto(film.stream, {
    directory,
    maxBytes: film.bytesMax,
    truncated: film.truncated,
  });
  if (!received.ok) return received.problem.code === 'photo_too_large' ? tooLarge(film.bytesMax) : received;
  try {
    return await keepAndWrite(services, actor, input, received.value);
  } finally {
    await rm(received.value.path, { force: true });
  }
}

function tooLarge(bytesMax: number) {
  return refuse(
    'recording_too_large',
    `The recording is larger than ${Math.floor(bytesMax / 1_000_000)} MB. Record a shorter one.`,
    'recording',
  );
}

const takesRecordings: readonly WorkOrderState[] = [
  'written_up',
  'awaiting_approval',
  'approved',
  'in_work',
  'done',
];

/** Whether a recording may go there; with the row that already has its id, if one does. */
async function checkPlace(
  scope: Scope,
  { recordingId, workOrderId }: Pick<AddRecordingInput, 'recordingId' | 'workOrderId'>,
): Promise<Result<RecordingRow | null>> {
  const workOrder = await openWorkOrder(scope, workOrderId);
  if (!workOrder.ok) return workOrder;
  const earlier = await findRecording(scope.tx, recordingId);
  if (earlier !== null) return earlier.workOrderId === workOrderId ? ok(earlier) : reusedId;
  if (takesRecordings.includes(workOrder.value.state)) return ok(null);
  return refuse(
    'wrong_state',
    `This work order is “${workOrderStates[workOrder.value.state]}”, so its evidence is closed. Add recordings to a rework order.`,
  );
}

const reusedId = refuse(
  'id_reused',
  'This recording’s id was already used for another one. Send it under a new id.',
  'recording_id',
);

function sameUpload(
  services: Services,
  actor: Actor,
  earlier: RecordingRow,
  uploadId: UploadId,
): Promise<Result<AddedRecording>> {
  return performAsStaff(services, actor, 'write_up', async (scope) => {
    const upload = await findUpload(scope.tx, uploadId);
    return upload?.sha256 === earlier.sha256 ? ok(added(earlier)) : reusedId;
  });
}

async function keepAndWrite(
  services: Services,
  actor: Actor,
  input: AddRecordingInput,
  file: { readonly path: string; readonly sha256: string; readonly bytes: number },
): Promise<Result<AddedRecording>> {
  const kept = await keepRecording(services.objects, actor.tenantId, file, input);
  if (!kept.ok) return kept;
  return performAsStaff(services, actor, 'write_up', (scope) => write(scope, input, kept.value));
}

async function write(
  scope: Scope,
  input: AddRecordingInput,
  { mediaType, namesPlace, film, poster }: KeptRecording,
): Promise<Result<AddedRecording>> {
  const checked = await checkPlace(scope, input);
  if (!checked.ok) return checked;
  if (checked.value !== null)
    return checked.value.sha256 === film.sha256 ? ok(added(checked.value)) : reusedId;
  const row: Omit<RecordingRow, 'tenantId'> = {
    id: input.recordingId,
    workOrderId: input.workOrderId,
    kind: 'walk_around',
    mediaType,
    namesPlace,
    sha256: film.sha256,
    bytes: film.bytes,
    seconds: input.seconds,
    capturedAt: input.capturedAt,
    receivedAt: scope.now,
    receivedFrom: scope.actor.personId,
  };
  const files = [
    { part: 'film' as const, ...film },
    ...(poster === null ? [] : [{ part: 'poster' as const, ...poster }]),
  ];
  if (!(await insertRecording(scope.tx, row, files))) return reusedId;
  if ('uploadId' in input.film) {
    const used = await useUpload(scope, input.film.uploadId, row.id);
    if (!used.ok) return used;
  }
  await record(
    scope,
    'recording_added',
    { kind: 'recording', id: row.id },
    { work_order_id: row.workOrderId, sha256: row.sha256, media_type: mediaType, names_place: namesPlace },
  );
  return ok(added(row));
}

function added({
  id,
  sha256,
  namesPlace,
}: Pick<RecordingRow, 'id' | 'sha256' | 'namesPlace'>): AddedRecording {
  return { recordingId: id, sha256, namesPlace };
}
