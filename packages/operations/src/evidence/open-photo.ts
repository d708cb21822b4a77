import type { Readable } from 'node:stream';
import {
  type DerivativeRow,
  findDerivative,
  findPhoto,
  findPhotoDigest,
  findShownCopy,
  listStandingCoverings,
  type TenantTransaction,
} from '@grainwright/db';
import { ok, type PhotoId, type Result, refuse } from '@grainwright/domain';
import { toObjectKey } from '@grainwright/evidence';
import { type Actor, perform, type Scope } from '../perform.ts';
import { refuseDeleted } from '../retention/deletion-words.ts';
import type { Services } from '../services.ts';

export interface OpenPhotoInput {
  readonly photoId: PhotoId;
  readonly kind: PhotoKind;
  /** The digest of what the reader already holds; when it still is that, no content is opened. */
  readonly heldDigest?: string | undefined;
}

/** `view` and `thumb` are what everybody is shown, parts covered where they are; `uncovered` is the view as it was taken. */
export type PhotoKind = 'original' | 'uncovered' | DerivativeRow['kind'];

export interface OpenedPhoto {
  readonly sha256: string;
  readonly mediaType: string;
  readonly bytes: number;
  /** A name of ours for whoever saves it. */
  readonly fileName: string;
  /** Null when the reader already holds it. */
  readonly stream: Readable | null;
}

type Located = Pick<DerivativeRow, 'sha256' | 'storageKey'> & { readonly mediaType: string };

/**
 * Opens a photo: the original for staff only, since it may carry a position, and so what is covered for others; the
 * upright copies for whoever sees the work order. Refuses with `not_found`, `deleted_by_rule`, or `unavailable` while
 * the copies are still being made.
 */
export async function openPhoto(
  services: Services,
  actor: Actor,
  input: OpenPhotoInput,
): Promise<Result<OpenedPhoto>> {
  const found = await perform(services, actor, 'see_work_orders', (scope) => locate(scope, input));
  return found.ok ? openLocated(services, input, found.value) : found;
}

/** Opens what was found in the database, unless the reader holds it already. */
export async function openLocated(
  services: Pick<Services, 'objects'>,
  input: OpenPhotoInput,
  { sha256, storageKey, mediaType }: Located,
): Promise<Result<OpenedPhoto>> {
  const fileName = `${input.photoId}-${input.kind}.${extensions[mediaType] ?? 'jpg'}`;
  const known = { sha256, mediaType, fileName };
  if (input.heldDigest === sha256) return ok({ ...known, bytes: 0, stream: null });
  const object = await services.objects.open(toObjectKey(storageKey));
  if (object === null) throw new Error(`the object store lacks ${storageKey}`);
  return ok({ ...known, bytes: object.bytes, stream: object.stream });
}

const extensions: Readonly<Record<string, string>> = {
  'image/jpeg': 'jpg',
  'image/png': 'png',
  'image/webp': 'webp',
};

async function locate(scope: Scope, { photoId, kind }: OpenPhotoInput): Promise<Result<Located>> {
  if (kind === 'view' || kind === 'thumb') return locateCopy(scope.tx, photoId, kind);
  if (scope.actor.accountId !== null) return missing;
  if (kind === 'uncovered') return locateUncovered(scope.tx, photoId);
  const photo = await findPhoto(scope.tx, photoId);
  if (photo === null) return missing;
  return (await refuseDeleted(scope.tx, 'photos', deletable(photo))) ?? ok(photo);
}

function deletable({ id, sha256 }: { readonly id: PhotoId; readonly sha256: string }) {
  return { id, what: 'This picture', sha256 };
}

const missing = refuse('not_found', 'There is no such photo.');

/** The staff's own copy for looking at, whatever is covered for others. */
async function locateUncovered(tx: TenantTransaction, photoId: PhotoId): Promise<Result<Located>> {
  const sha256 = await findPhotoDigest(tx, photoId);
  if (sha256 === null) return missing;
  const copy = await findDerivative(tx, photoId, 'view');
  const deleted = await refuseDeleted(tx, 'photos', deletable({ id: photoId, sha256 }));
  return deleted ?? (copy === null ? beingMade : ok({ ...copy, mediaType: 'image/jpeg' }));
}

/**
 * An upright copy as it is shown, in whatever role the transaction has. Refuses with `not_found`, `deleted_by_rule`, or
 * `unavailable` while it is made.
 */
export async function locateCopy(
  tx: TenantTransaction,
  photoId: PhotoId,
  kind: DerivativeRow['kind'],
): Promise<Result<Located>> {
  const copy = await findShownCopy(tx, photoId, kind);
  if (copy !== null) return ok({ ...copy, mediaType: 'image/jpeg' });
  const sha256 = await findPhotoDigest(tx, photoId);
  if (sha256 === null) return missing;
  const deleted = await refuseDeleted(tx, 'photos', deletable({ id: photoId, sha256 }));
  if (deleted !== null) return deleted;
  return (await listStandingCoverings(tx, [photoId])).length === 0 ? beingMade : beingCovered;
}

const beingMade = refuse(
  'unavailable',
  'The photo is kept; its copy for looking at is still being made. Try again in a moment.',
);
const beingCovered = refuse(
  'unavailable',
  'Parts of the photo are being covered; the copy to look at is still being made. Try again in a moment.',
);
