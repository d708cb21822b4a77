import {
  findPhoto,
  findPhotoCheck,
  findPhotoOverride,
  insertPhotoOverride,
  type PhotoOverrideRow,
} from '@grainwright/db';
import {
  ok,
  type PhotoId,
  type PhotoOverrideId,
  type Result,
  refuse,
  toId,
  type WorkOrderId,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { readWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { openWorkOrder } from '../work-order-path.ts';

export interface KeepInSpiteInput {
  /** Made by the client: the same reason sent again under it counts once. */
  readonly overrideId: PhotoOverrideId;
  readonly photoId: PhotoId;
  /** Where it was told with the photo: the photo has to be of it. */
  readonly workOrderId?: WorkOrderId;
  readonly reason: string;
}

/**
 * Keeps a photo in spite of its warnings, with the reason, while its work order's evidence is open. Refuses with
 * `not_found`, `wrong_state`, `invalid_input` or `id_reused`.
 */
export function keepInSpite(
  services: Services,
  actor: Actor,
  input: KeepInSpiteInput,
): Promise<Result<{ readonly reason: string }>> {
  return performAsStaff(services, actor, 'override_warning', async (scope) => {
    const photo = await findPhoto(scope.tx, input.photoId);
    const { workOrderId } = input;
    if (photo === null || (workOrderId !== undefined && photo.workOrderId !== workOrderId))
      return refuse('not_found', 'There is no such photo.');
    const opened = await openWorkOrder(scope, photo.workOrderId);
    if (!opened.ok) return opened;
    const earlier = await findPhotoOverride(scope.tx, input.overrideId);
    if (earlier === null && !open.includes(opened.value.state))
      return refuse('wrong_state', 'The evidence of this work order is closed; its photos stay as they are.');
    return writeOverride(scope, input);
  });
}

const open: readonly string[] = ['written_up', 'awaiting_approval', 'approved', 'in_work', 'done'];

/** Within a transaction that has the work order open. */
export async function writeOverride(
  scope: Scope,
  { overrideId, photoId, reason: said }: KeepInSpiteInput,
): Promise<Result<{ readonly reason: string }>> {
  const reason = readWords(said, 'reason', 'why the photo is kept', 500);
  if (!reason.ok) return reason;
  const given = { photoId, reason: reason.value };
  const earlier = await findPhotoOverride(scope.tx, overrideId);
  if (earlier !== null) return sameContent(earlier, given) ? ok({ reason: earlier.reason }) : reusedId;
  const check = await findPhotoCheck(scope.tx, photoId);
  if (check === null)
    return refuse('invalid_input', 'Nothing was said against this photo, so it needs no reason.', 'photo_id');
  const row: Omit<PhotoOverrideRow, 'tenantId'> = {
    id: overrideId,
    ...given,
    madeBy: scope.actor.personId,
    madeAt: scope.now,
  };
  if (!(await insertPhotoOverride(scope.tx, row))) return reusedId;
  await record(
    scope,
    'photo_kept_in_spite',
    { kind: 'photo', id: photoId },
    { reason: reason.value, warnings: check.warnings.map(({ code }) => code) },
  );
  return ok({ reason: reason.value });
}

/** The answer to a photo that came with its reason; one reason under a photo's own id, the first. */
export async function withReason<Photo extends { readonly photoId: PhotoId }>(
  scope: Scope,
  added: Result<Photo>,
  reason: string | null | undefined,
): Promise<Result<Photo>> {
  if (!added.ok || (reason ?? '').trim() === '') return added;
  const { photoId } = added.value;
  const overrideId = toId<PhotoOverrideId>(photoId);
  if ((await findPhotoOverride(scope.tx, overrideId)) !== null) return added;
  const written = await writeOverride(scope, { overrideId, photoId, reason: reason ?? '' });
  return written.ok ? added : written;
}

const reusedId = refuse(
  'id_reused',
  'This id was already used for another reason. Send it under a new id.',
  'override_id',
);
