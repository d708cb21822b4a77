import { findWorkOrderOfPhoto } from '@grainwright/db';
import { ok, type Result, refuse } from '@grainwright/domain';
import { type OpenedPhoto, type OpenPhotoInput, openPhoto } from '../evidence/open-photo.ts';
import { performAsContact } from '../perform.ts';
import type { Services } from '../services.ts';
import { type ApprovalLink, checkAsked } from './read-asked-visit.ts';

/** A photo of a work order that the link opens; refuses with `not_found` every other one, and as `openPhoto` does. */
export async function openAskedPhoto(
  services: Services,
  link: ApprovalLink,
  input: OpenPhotoInput,
): Promise<Result<OpenedPhoto>> {
  const found = await performAsContact(services, link.actor, 'see_work_orders', async ({ tx }) => {
    const workOrderId = await findWorkOrderOfPhoto(tx, input.photoId);
    return workOrderId === null ? refuse('not_found', 'There is no such photo.') : ok(workOrderId);
  });
  if (!found.ok) return found;
  const asked = await checkAsked(services, link, found.value);
  return asked.ok ? openPhoto(services, link.actor, input) : refuse('not_found', 'There is no such photo.');
}
