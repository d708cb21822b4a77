import type { PhoneStore } from './store.ts';

/** The photos of one person that their phone has taken along, by the worker’s and the pages’ common name for them. */
export function photosOf({ owner }: Pick<PhoneStore, 'owner'>): string {
  return `grainwright-photos-${owner.tenantId}-${owner.personId}`;
}

/** More than the work orders of a day have. */
const photosMax = 120;

/**
 * Takes along the pictures of the day’s open work orders, so that before and after can be shown without signal, and lets
 * go of those of other days. One after the other: whatever the person does comes first.
 */
export async function takePhotosAlong(store: Pick<PhoneStore, 'owner'>, snapshot: unknown): Promise<void> {
  if (!('caches' in globalThis)) return;
  const wanted = photosIn(snapshot)
    .slice(0, photosMax)
    .map((id) => `/photos/${id}/view`);
  const cache = await caches.open(photosOf(store));
  for (const { url } of await cache.keys()) {
    const { pathname } = new URL(url);
    if (!wanted.includes(pathname)) await cache.delete(pathname);
  }
  for (const path of wanted) {
    if ((await cache.match(path)) !== undefined) continue;
    try {
      const reply = await fetch(path);
      // One whose copy is still being made is taken along the next time.
      if (reply.status === 200) await cache.put(path, reply);
    } catch {
      return;
    }
  }
}

function photosIn(snapshot: unknown): readonly string[] {
  return listIn(snapshot, 'workOrders')
    .flatMap((order) => listIn(order, 'photos'))
    .flatMap((photo) => (hasId(photo) ? [photo.id] : []));
}

function listIn(of: unknown, name: string): readonly unknown[] {
  if (typeof of !== 'object' || of === null) return [];
  const list: unknown = Reflect.get(of, name);
  return Array.isArray(list) ? list : [];
}

function hasId(photo: unknown): photo is { readonly id: string } {
  return typeof photo === 'object' && photo !== null && 'id' in photo && typeof photo.id === 'string';
}
