import type { DerivativeRow } from '@grainwright/db';
import type { PhotoId, Result } from '@grainwright/domain';
import { locateCopy, type OpenedPhoto, openLocated } from '../evidence/open-photo.ts';
import type { Services } from '../services.ts';
import type { OwnersLinkOpened } from './owner-facts.ts';
import { asOwner } from './show-to-owner.ts';

export interface OwnersPhotoAsked {
  readonly photoId: PhotoId;
  readonly kind: DerivativeRow['kind'];
  /** The digest of what the reader already holds. */
  readonly heldDigest?: string | undefined;
}

/** A picture for the vehicle's owner, found in the owner's database role. Refuses with `not_found` or `unavailable`. */
export async function openOwnersPhoto(
  services: Services,
  link: OwnersLinkOpened,
  asked: OwnersPhotoAsked,
): Promise<Result<OpenedPhoto>> {
  const found = await services.database.withTenant(asOwner(link), (tx) =>
    locateCopy(tx, asked.photoId, asked.kind),
  );
  return found.ok ? openLocated(services, asked, found.value) : found;
}
