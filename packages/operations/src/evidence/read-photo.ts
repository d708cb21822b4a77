import { findPhoto, type PhotoRow } from '@grainwright/db';
import { ok, type PhotoId, type Result, refuse } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';

/** What is on record of a photo, with what its camera wrote into it. */
export type PhotoOnRecord = Omit<PhotoRow, 'tenantId' | 'storageKey'>;

/** For the staff: what a camera wrote may say where somebody lives. Refuses with `not_found`. */
export function readPhoto(
  services: Services,
  actor: Actor,
  photoId: PhotoId,
): Promise<Result<PhotoOnRecord>> {
  return performAsStaff(services, actor, 'see_work_orders', async ({ tx }) => {
    const photo = await findPhoto(tx, photoId);
    if (photo === null) return refuse('not_found', 'There is no such photo.');
    const { tenantId: _tenant, storageKey: _key, ...view } = photo;
    return ok(view);
  });
}
