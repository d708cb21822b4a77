import { ok, type Result, refuse } from '@grainwright/domain';
import { digestOf, toObjectKey } from '@grainwright/evidence';
import type { OpenedPhoto } from '../evidence/open-photo.ts';
import { type Actor, perform } from '../perform.ts';
import type { Services } from '../services.ts';

/** The business's logo for whoever sees its documents, staff and contacts alike. */
export async function openLogo(
  services: Services,
  actor: Actor,
  heldDigest: string | undefined,
): Promise<Result<OpenedPhoto>> {
  const found = await perform(services, actor, 'see_work_orders', async ({ business }) => {
    const { logoKey, logoMediaType } = business;
    return logoKey === null || logoMediaType === null
      ? refuse('not_found', 'There is no logo.')
      : ok({ key: toObjectKey(logoKey), mediaType: logoMediaType });
  });
  if (!found.ok) return found;
  const { key, mediaType } = found.value;
  const sha256 = digestOf(key);
  const fileName = mediaType === 'image/png' ? 'logo.png' : 'logo.jpg';
  const known = { sha256, mediaType, fileName };
  if (heldDigest === sha256) return ok({ ...known, bytes: 0, stream: null });
  const object = await services.objects.open(key);
  if (object === null) throw new Error(`the object store lacks ${key}`);
  return ok({ ...known, bytes: object.bytes, stream: object.stream });
}
