/** The database that a phone has for one person of one business, and how things are written to it. */
import type { DBSchema } from 'idb';
import type { KeptAction } from './action.ts';
import type { PhoneOwner } from './store.ts';

export interface PhoneSchema extends DBSchema {
  actions: { key: number; value: KeptAction; indexes: { id: string } };
  /** Bytes and not blobs: some browsers lose a blob that stays long. */
  parts: { key: [string, number]; value: Part };
  things: { key: string; value: unknown };
}

export interface Part {
  readonly bytes: ArrayBuffer;
  readonly mediaType: string;
}

export function databaseName({ tenantId, personId }: PhoneOwner): string {
  return `grainwright-phone-${tenantId}-${personId}`;
}

/** Done means on the disk, and not only in the browser's memory. */
export const onDisk = { durability: 'strict' } as const;

/** The phone has no room for it: nothing of it was kept. */
export class PhoneFullError extends Error {}

/** Under its id something else is kept already, as when a page was sent, gone back to, and sent with other things in it. */
export class OtherThingError extends Error {}

export async function roomFor<T>(write: () => Promise<T>): Promise<T> {
  try {
    return await write();
  } catch (error) {
    if (error instanceof DOMException && error.name === 'QuotaExceededError')
      throw new PhoneFullError(
        'This phone has no room for it, so it was not kept. Free some room and try again.',
      );
    throw error;
  }
}

export function partsOf(fileId: string): IDBKeyRange {
  return IDBKeyRange.bound([fileId, 0], [fileId, Number.POSITIVE_INFINITY]);
}
