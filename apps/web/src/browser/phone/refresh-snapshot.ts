import { lockPhone } from './lock-phone.ts';
import { isSignedOut, nameOf } from './sender.ts';
import type { PhoneStore } from './store.ts';

/** A snapshot as it came; the app reads it with its schema, which is too large for every page. */
export interface Taken {
  readonly askedAt: string;
  /** How often this phone knew that something changes, before it asked; as the store counts it. */
  readonly changes: number;
  readonly snapshot: unknown;
}

/** Asks the server what to take along, and keeps it. False where no answer came. */
export async function refreshSnapshot(store: PhoneStore): Promise<boolean> {
  const askedAt = new Date().toISOString();
  const changes = await store.countChanges();
  try {
    const reply = await fetch('/api/v1/phone/snapshot', {
      headers: { accept: 'application/json', 'x-grainwright-person': nameOf(store.owner) },
      credentials: 'same-origin',
      cache: 'no-store',
    });
    const answer: unknown = await reply.json();
    if (isSignedOut(reply.status, answer)) await lockPhone(store.owner);
    if (!reply.ok) return false;
    await store.keepSnapshot({ askedAt, changes, snapshot: answer });
    return true;
  } catch {
    return false;
  }
}

export async function keptLately(store: Pick<PhoneStore, 'readSnapshot'>): Promise<Taken | null> {
  const kept = await store.readSnapshot();
  if (typeof kept !== 'object' || kept === null || !('askedAt' in kept) || !('snapshot' in kept)) return null;
  const { askedAt, snapshot } = kept;
  const changes = 'changes' in kept && typeof kept.changes === 'number' ? kept.changes : -1;
  return typeof askedAt === 'string' ? { askedAt, changes, snapshot } : null;
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

/** Of the business, by which times are told; undefined, the device’s own, where nothing tells it. */
export function timeZoneIn(snapshot: unknown): string | undefined {
  if (typeof snapshot !== 'object' || snapshot === null || !('business' in snapshot)) return undefined;
  const { business } = snapshot;
  if (typeof business !== 'object' || business === null || !('timeZone' in business)) return undefined;
  return typeof business.timeZone === 'string' ? business.timeZone : undefined;
}
