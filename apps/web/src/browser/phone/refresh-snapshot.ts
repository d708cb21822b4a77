import { lockPhone } from './lock-phone.ts';
import { nameOf } from './sender.ts';
import type { PhoneStore } from './store.ts';

/** A snapshot as it came; the app reads it with its schema, which is too large for every page. */
export interface Taken {
  readonly askedAt: string;
  readonly snapshot: unknown;
}

/** Asks the server what to take along, and keeps it. False where no answer came. */
export async function refreshSnapshot(store: PhoneStore): Promise<boolean> {
  const askedAt = new Date().toISOString();
  try {
    const reply = await fetch('/api/v1/phone/snapshot', {
      headers: { accept: 'application/json', 'x-grainwright-person': nameOf(store.owner) },
      credentials: 'same-origin',
      cache: 'no-store',
    });
    if (reply.status === 401) await lockPhone(store.owner);
    if (!reply.ok) return false;
    const snapshot: unknown = await reply.json();
    await store.keepSnapshot({ askedAt, snapshot });
    return true;
  } catch {
    return false;
  }
}

export async function keptLately(store: Pick<PhoneStore, 'readSnapshot'>): Promise<Taken | null> {
  const kept = await store.readSnapshot();
  if (typeof kept !== 'object' || kept === null || !('askedAt' in kept) || !('snapshot' in kept)) return null;
  return typeof kept.askedAt === 'string' ? { askedAt: kept.askedAt, snapshot: kept.snapshot } : null;
}

/** The work orders in it, by their ids. */
export function ordersIn(snapshot: unknown): readonly string[] {
  if (typeof snapshot !== 'object' || snapshot === null || !('workOrders' in snapshot)) return [];
  const { workOrders } = snapshot;
  if (!Array.isArray(workOrders)) return [];
  return workOrders.flatMap((order: unknown) =>
    typeof order === 'object' && order !== null && 'id' in order && typeof order.id === 'string'
      ? [order.id]
      : [],
  );
}
