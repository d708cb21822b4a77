import type { Readable } from 'node:stream';
import {
  enqueueJob,
  findPhoto,
  findPhotoCheck,
  insertPhoto,
  listWorkOrderLines,
  type PhotoRow,
} from '@grainwright/db';
import {
  type Instant,
  type LineId,
  ok,
  type PhotoId,
  type PhotoPurpose,
  type PhotoWarning,
  photoPurposes,
  type Result,
  refuse,
  type WorkOrderId,
  type WorkOrderState,
  workOrderStates,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { checkPhoto } from '../photo-checks/check-photo.ts';
import { withReason } from '../photo-checks/keep-in-spite.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { openWorkOrder } from '../work-order-path.ts';
import { type KeptOriginal, keepOriginal } from './receive-photo.ts';

/** What is said of a photo, however its bytes come. */
export interface PhotoToAdd {
  /** Made by the client: the same photo sent again under it is kept once. */
  readonly photoId: PhotoId;
  readonly workOrderId: WorkOrderId;
  /** Null for a photo of the vehicle as a whole. */
  readonly lineId: LineId | null;
  readonly purpose: string;
  /** When the device says that it was taken. */
  readonly capturedAt?: Instant | null;
  /** The photo of the same work order that this one was taken instead of. */
  readonly retakeOf?: PhotoId | null;
  /** Why it is kept in spite of what will be said against it. */
  readonly overrideReason?: string | null;
}

export interface AddPhotoInput extends PhotoToAdd {
  readonly stream: Readable;
  /** Whether the upload's parser cut the stream short. Asked once it has ended. */
  readonly truncated: () => boolean;
  /** Where the upload is put while it comes in, on the file system of the object store. */
  readonly directory: string;
  readonly bytesMax: number;
}

export interface AddedPhoto {
  readonly photoId: PhotoId;
  readonly sha256: string;
  readonly purpose: PhotoPurpose;
  /** For the technician, who is still beside the vehicle. */
  readonly warnings: readonly PhotoWarning[];
}

/**
 * Keeps a photo of a work order that is not accepted yet. Its bytes are durable in the object store before its row
 * is written, and the row and the order for its copies are one transaction: no row ever lacks its bytes. Refuses
 * with `not_found`, `wrong_state`, `invalid_input`, `id_reused` or one of `photo_…`, and then no row is there. When it
 * refuses before reading, the stream is the caller's to drain.
 */
export async function addPhoto(
  services: Services,
  actor: Actor,
  input: AddPhotoInput,
): Promise<Result<AddedPhoto>> {
  const read = readPlace(input);
  if (!read.ok) return read;
  const place = read.value;
  const earlier = await performAsStaff(services, actor, 'write_up', (scope) => checkPlace(scope, place));
  if (!earlier.ok) return earlier;
  const { stream, truncated, directory, bytesMax } = input;
  const kept = await keepOriginal(services.objects, actor.tenantId, earlier.value?.sha256 ?? null, {
    stream,
    truncated,
    directory,
    bytesMax,
  });
  if (!kept.ok) return kept;
  return performAsStaff(services, actor, 'write_up', async (scope) =>
    withReason(scope, await writePhoto(scope, place, kept.value), input.overrideReason),
  );
}

export function readPlace(input: PhotoToAdd): Result<PhotoPlace> {
  const { photoId, workOrderId, lineId, purpose, capturedAt = null, retakeOf = null } = input;
  return isPurpose(purpose)
    ? ok({ photoId, workOrderId, lineId, purpose, capturedAt, retakeOf })
    : refuse(
        'invalid_input',
        `Choose what the photo shows: ${Object.values(photoPurposes).join(', ')}.`,
        'purpose',
      );
}

function isPurpose(text: string): text is PhotoPurpose {
  return Object.hasOwn(photoPurposes, text);
}

export interface PhotoPlace extends Required<Omit<PhotoToAdd, 'overrideReason'>> {
  readonly purpose: PhotoPurpose;
}

/** Whether the photo may go there; with the row that already has its id, if one does. */
export async function checkPlace(scope: Scope, place: PhotoPlace): Promise<Result<PhotoRow | null>> {
  const workOrder = await openWorkOrder(scope, place.workOrderId);
  if (!workOrder.ok) return workOrder;
  const earlier = await findPhoto(scope.tx, place.photoId);
  if (earlier !== null) return earlier.workOrderId === place.workOrderId ? ok(earlier) : reusedId();
  if (!takesPhotos.includes(workOrder.value.state))
    return refuse(
      'wrong_state',
      `This work order is “${workOrderStates[workOrder.value.state]}”, so its evidence is closed. Add photos to a rework order.`,
    );
  if (place.purpose === 'after' && !takesAfter.includes(workOrder.value.state))
    return refuse(
      'wrong_state',
      `This work order is “${workOrderStates[workOrder.value.state]}”: there is nothing to see after the repair yet. Start the work first, or choose what else the photo shows.`,
      'purpose',
    );
  const lines = await listWorkOrderLines(scope.tx, place.workOrderId);
  if (place.lineId !== null && !lines.some((line) => line.id === place.lineId))
    return refuse(
      'invalid_input',
      'This work order has no such line. Choose the part that the photo shows.',
      'line_id',
    );
  return checkRetake(scope, place);
}

async function checkRetake(scope: Scope, { workOrderId, retakeOf }: PhotoPlace): Promise<Result<null>> {
  if (retakeOf === null) return ok(null);
  const first = await findPhoto(scope.tx, retakeOf);
  if (first?.workOrderId === workOrderId) return ok(null);
  return refuse(
    'invalid_input',
    'This work order has no such photo. Name the photo that this one was taken instead of.',
    'retake_of',
  );
}

const takesPhotos: readonly WorkOrderState[] = [
  'written_up',
  'awaiting_approval',
  'approved',
  'in_work',
  'done',
];

const takesAfter: readonly WorkOrderState[] = ['in_work', 'done'];

function reusedId() {
  return refuse(
    'id_reused',
    'This photo’s id was already used for another photo. Send it under a new id.',
    'photo_id',
  );
}

/** Writes the row of a photo whose bytes are in the object store, or answers as the first time. */
export async function writePhoto(
  scope: Scope,
  place: PhotoPlace,
  kept: KeptOriginal,
): Promise<Result<AddedPhoto>> {
  const checked = await checkPlace(scope, place);
  if (!checked.ok) return checked;
  const stored = checked.value;
  if (stored !== null) return sameAgain(scope, stored, place, kept);
  const { position, takenAtLocal, takenAtOffset = null, exif = null, measures, ...original } = kept;
  const { photoId, ...where } = place;
  const row = {
    ...original,
    ...where,
    id: photoId,
    exif,
    takenAtLocal: takenAtLocal ?? null,
    latitude: position?.latitude ?? null,
    longitude: position?.longitude ?? null,
    receivedAt: scope.now,
    receivedFrom: scope.actor.personId,
  };
  if (!(await insertPhoto(scope.tx, row))) return reusedId();
  await record(
    scope,
    'photo_added',
    { kind: 'photo', id: row.id },
    { work_order_id: row.workOrderId, line_id: row.lineId, purpose: row.purpose, sha256: row.sha256 },
  );
  await enqueueJob(scope.tx, 'make_photo_derivatives', row.id);
  const found = await checkPhoto(scope, { ...row, takenAtOffset, measures });
  return ok(added(row, found));
}

/**
 * The same photo for the same place answers as the first time. A page's form does not say when it was taken; the phone
 * that sends it again, since the answer was lost, does.
 */
export async function sameAgain(
  scope: Scope,
  stored: PhotoRow,
  { lineId, purpose, capturedAt, retakeOf }: PhotoPlace,
  { sha256 }: Pick<PhotoRow, 'sha256'>,
): Promise<Result<AddedPhoto>> {
  const same = sameContent(stored, {
    sha256,
    lineId,
    purpose,
    retakeOf,
    capturedAt: stored.capturedAt === null ? null : capturedAt,
  });
  if (!same) return reusedId();
  const check = await findPhotoCheck(scope.tx, stored.id);
  return ok(added(stored, check?.warnings ?? []));
}

function added(
  { id, sha256, purpose }: Pick<PhotoRow, 'id' | 'sha256' | 'purpose'>,
  warnings: readonly PhotoWarning[],
): AddedPhoto {
  return { photoId: id, sha256, purpose, warnings };
}
