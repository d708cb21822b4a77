import type { Readable } from 'node:stream';
import {
  enqueueJob,
  findPhoto,
  insertPhoto,
  listShownPhotos,
  listWorkOrderLines,
  type PhotoRow,
} from '@grainwright/db';
import {
  type LineId,
  ok,
  type PhotoId,
  type PhotoPurpose,
  photoPurposes,
  type Result,
  refuse,
  type WorkOrderId,
  type WorkOrderState,
  workOrderStates,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { openWorkOrder } from '../work-order-path.ts';
import { type KeptOriginal, keepOriginal } from './receive-photo.ts';

export interface AddPhotoInput {
  /** Made by the client: the same photo sent again under it is kept once. */
  readonly photoId: PhotoId;
  readonly workOrderId: WorkOrderId;
  /** Null for a photo of the vehicle as a whole. */
  readonly lineId: LineId | null;
  readonly purpose: string;
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
  /** Sentences for the technician, who is still beside the vehicle. */
  readonly warnings: readonly string[];
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
  const purpose = readPurpose(input.purpose);
  if (!purpose.ok) return purpose;
  const place = { ...input, purpose: purpose.value };
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
  return performAsStaff(services, actor, 'write_up', (scope) => writePhoto(scope, place, kept.value));
}

function readPurpose(text: string): Result<PhotoPurpose> {
  return isPurpose(text)
    ? ok(text)
    : refuse(
        'invalid_input',
        `Choose what the photo shows: ${Object.values(photoPurposes).join(', ')}.`,
        'purpose',
      );
}

function isPurpose(text: string): text is PhotoPurpose {
  return Object.hasOwn(photoPurposes, text);
}

type PhotoPlace = Pick<AddPhotoInput, 'photoId' | 'workOrderId' | 'lineId'> & {
  readonly purpose: PhotoPurpose;
};

/** Whether the photo may go there; with the row that already has its id, if one does. */
async function checkPlace(scope: Scope, place: PhotoPlace): Promise<Result<PhotoRow | null>> {
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
  return ok(null);
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

async function writePhoto(scope: Scope, place: PhotoPlace, kept: KeptOriginal): Promise<Result<AddedPhoto>> {
  const checked = await checkPlace(scope, place);
  if (!checked.ok) return checked;
  const stored = checked.value;
  if (stored !== null) return sameAgain(scope, stored, place, kept);
  const { position, takenAtLocal, ...original } = kept;
  const row = {
    ...original,
    id: place.photoId,
    workOrderId: place.workOrderId,
    lineId: place.lineId,
    purpose: place.purpose,
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
  return ok(await added(scope, row));
}

/** The same photo for the same place answers as the first time. */
async function sameAgain(
  scope: Scope,
  stored: PhotoRow,
  place: PhotoPlace,
  kept: KeptOriginal,
): Promise<Result<AddedPhoto>> {
  const same =
    stored.sha256 === kept.sha256 && stored.lineId === place.lineId && stored.purpose === place.purpose;
  return same ? ok(await added(scope, stored)) : reusedId();
}

async function added(
  scope: Scope,
  row: Pick<PhotoRow, 'id' | 'workOrderId' | 'sha256' | 'purpose'>,
): Promise<AddedPhoto> {
  const photos = await listShownPhotos(scope.tx, row.workOrderId);
  const before = photos.slice(
    0,
    photos.findIndex((photo) => photo.id === row.id),
  );
  const twin = before.find((photo) => photo.sha256 === row.sha256);
  const warnings =
    twin === undefined
      ? []
      : [
          `This is the same picture as one already kept here as “${photoPurposes[twin.purpose]}”. Take a new one if that is not meant.`,
        ];
  return { photoId: row.id, sha256: row.sha256, purpose: row.purpose, warnings };
}
