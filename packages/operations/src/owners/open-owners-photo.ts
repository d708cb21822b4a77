import { type DerivativeRow, findAnswerByLink } from '@grainwright/db';
import { ok, type PhotoId, type Result } from '@grainwright/domain';
import { locateCopy, type OpenedPhoto, openLocated } from '../evidence/open-photo.ts';
import { type OpenSignatureInput, openKeptSignature } from '../evidence/open-signature.ts';
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

/** The signature that was drawn under this link, as a picture. Refuses with `not_found`. */
export async function openOwnersSignature(
  services: Services,
  link: OwnersLinkOpened,
  asked: OpenSignatureInput,
): Promise<Result<OpenedPhoto>> {
  const found = await services.database.withTenant(asOwner(link), async (tx) =>
    ok(await findAnswerByLink(tx, link.id)),
  );
  if (!found.ok) return found;
  return openKeptSignature(services, asked, found.value?.id === asked.acceptanceId ? found.value : null);
}
