import { isLeftOver } from '../phone/left-over.ts';
import type { PhoneStore } from '../phone/store.ts';

/** Pages of an earlier version named the one recording that was cut off in another place: it joins the others. */
export async function takeOverPointer(store: Pick<PhoneStore, 'owner' | 'keepLeftOver'>): Promise<void> {
  const { tenantId, personId } = store.owner;
  const name = `grainwright-recording-${tenantId}-${personId}`;
  try {
    const left: unknown = JSON.parse(localStorage.getItem(name) ?? 'null');
    if (!isLeftOver(left)) return;
    await store.keepLeftOver(left);
    localStorage.removeItem(name);
  } catch {
    // A browser that keeps nothing has none.
  }
}
