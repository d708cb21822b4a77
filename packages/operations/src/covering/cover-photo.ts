import {
  type CoveringRow,
  enqueueJob,
  findCovering,
  findPhoto,
  insertCovering,
  listCoverings,
  type PhotoRow,
} from '@grainwright/db';
import {
  type CoveredRegion,
  type CoveringId,
  canonicalJson,
  coversAllOf,
  ok,
  type PhotoId,
  type RegionInput,
  type Result,
  readRegions,
  refuse,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { readWords } from '../read-input.ts';
import { refuseDeleted } from '../retention/deletion-words.ts';
import type { Services } from '../services.ts';
import { openWorkOrder } from '../work-order-path.ts';

export interface CoverPhotoInput {
  /** Made by the client: the same covering sent again under it counts once. */
  readonly id: CoveringId;
  readonly photoId: PhotoId;
  readonly regions: readonly RegionInput[];
  readonly reason: string;
}

/**
 * Covers parts of a photo. From now on nobody but the staff sees it without the covering, though the covered copies are
 * still to be made; the original stays. It takes the place of the covering before, and only the owner of the business
 * may leave open what that one covered. Refuses with `not_found`, `invalid_input`, `not_allowed`,
 * `deleted_by_rule` or `id_reused`.
 */
export async function coverPhoto(
  services: Services,
  actor: Actor,
  { id, photoId, regions: inputs, reason }: CoverPhotoInput,
): Promise<Result<CoveringId>> {
  const regions = readRegions(inputs);
  if (!regions.ok) return regions;
  return performAsStaff(services, actor, 'cover_photos', (scope) =>
    writeCovering(scope, { id, photoId, regions: regions.value, reason }),
  );
}

export interface UncoverPhotoInput {
  readonly id: CoveringId;
  readonly photoId: PhotoId;
  readonly reason: string;
}

/** Takes the covering of a photo away. Refuses with `not_found`, `invalid_input`, `wrong_state` or `id_reused`. */
export function uncoverPhoto(
  services: Services,
  actor: Actor,
  input: UncoverPhotoInput,
): Promise<Result<CoveringId>> {
  return performAsStaff(services, actor, 'uncover_photos', (scope) =>
    writeCovering(scope, { ...input, regions: [] }),
  );
}

interface Covering extends UncoverPhotoInput {
  readonly regions: readonly CoveredRegion[];
}

async function writeCovering(scope: Scope, covering: Covering): Promise<Result<CoveringId>> {
  const { tx, now, actor } = scope;
  const { id, photoId, regions } = covering;
  const photo = await openPhotoFor(scope, photoId);
  if (!photo.ok) return photo;
  const reason = readWords(covering.reason, 'reason', 'why', 500);
  if (!reason.ok) return reason;
  const given = { ...covering, reason: reason.value };
  const earlier = await findCovering(tx, id);
  if (earlier !== null) return isSame(earlier, given) ? ok(id) : reusedId;
  const [last] = await listCoverings(tx, photoId);
  const allowed = checkTurn(scope, last?.covering.regions ?? [], regions);
  if (!allowed.ok) return allowed;
  const number = (last?.covering.number ?? 0) + 1;
  const row = { id, photoId, number, regions, reason: reason.value, madeBy: actor.personId, madeAt: now };
  if (!(await insertCovering(tx, row))) return reusedId;
  await record(
    scope,
    regions.length > 0 ? 'photo_covered' : 'photo_uncovered',
    { kind: 'photo', id: photoId },
    { covering: id, number, parts: regions.map(({ kind }) => kind), reason: reason.value },
  );
  if (regions.length > 0) await enqueueJob(tx, 'make_covered_copies', id);
  return ok(id);
}

/** Its work order is locked, so that two coverings of one photo come one after the other. */
async function openPhotoFor(scope: Scope, photoId: PhotoId): Promise<Result<PhotoRow>> {
  const photo = await findPhoto(scope.tx, photoId);
  if (photo === null) return refuse('not_found', 'There is no such photo.');
  const workOrder = await openWorkOrder(scope, photo.workOrderId);
  if (!workOrder.ok) return workOrder;
  const { id, sha256 } = photo;
  const deleted = await refuseDeleted(scope.tx, 'photos', { id, what: 'This picture', sha256 });
  return deleted ?? ok(photo);
}

function checkTurn(
  { member }: Scope,
  covered: readonly CoveredRegion[],
  regions: readonly CoveredRegion[],
): Result<true> {
  if (regions.length === 0 && covered.length === 0)
    return refuse('wrong_state', 'This photo is not covered, so there is nothing to take away.');
  if (member.role !== 'owner' && !coversAllOf(regions, covered))
    return refuse(
      'not_allowed',
      'This would lay open what is covered now. Keep each covered part within one of the new parts, or ask the owner of the business.',
      'regions',
    );
  return ok(true);
}

function isSame(earlier: CoveringRow, given: Covering): boolean {
  const { photoId, regions, reason } = earlier;
  return (
    photoId === given.photoId &&
    reason === given.reason &&
    canonicalJson(regions.map((each) => ({ ...each }))) ===
      canonicalJson(given.regions.map((each) => ({ ...each })))
  );
}

const reusedId = refuse(
  'id_reused',
  'This id was already used for another covering. Open the page again.',
  'id',
);
