import type { IDBPDatabase } from 'idb';
import { isLeftOver } from './left-over.ts';
import { onDisk, type PhoneSchema, partsOf, roomFor } from './phone-database.ts';
import type { PhoneStore } from './store.ts';

type LeftOvers = Pick<PhoneStore, 'listLeftOvers' | 'keepLeftOver' | 'dropLeftOver' | 'sweepParts'>;

/** Recordings that were begun and are not an action yet, beside their parts. */
export function leftOversOn(database: IDBPDatabase<PhoneSchema>): LeftOvers {
  return {
    listLeftOvers: async () => {
      const lefts = (await database.getAll('things', leftOverKeys())).filter(isLeftOver);
      const become = await Promise.all(lefts.map(({ id }) => database.getKeyFromIndex('actions', 'id', id)));
      return lefts.filter((_, index) => become[index] === undefined);
    },
    keepLeftOver: async (left) => {
      await roomFor(async () => {
        const transaction = database.transaction('things', 'readwrite', onDisk);
        await Promise.all([transaction.store.put({ ...left }, leftOverKey(left.id)), transaction.done]);
      });
    },
    dropLeftOver: async (id) => {
      const transaction = database.transaction(['actions', 'parts', 'things'], 'readwrite', onDisk);
      const action = await transaction.objectStore('actions').index('id').getKey(id);
      if (action === undefined) await transaction.objectStore('parts').delete(partsOf(id));
      await transaction.objectStore('things').delete(leftOverKey(id));
      await transaction.done;
    },
    sweepParts: () => sweepParts(database),
  };
}

/** In one transaction: what is being kept just now is named before its first part is. */
async function sweepParts(database: IDBPDatabase<PhoneSchema>): Promise<void> {
  const transaction = database.transaction(['actions', 'parts', 'things'], 'readwrite');
  const parts = transaction.objectStore('parts');
  const fileIds = new Set((await parts.getAllKeys()).map(([fileId]) => fileId));
  for (const fileId of fileIds) {
    const action = await transaction.objectStore('actions').index('id').getKey(fileId);
    const left = await transaction.objectStore('things').getKey(leftOverKey(fileId));
    if (action === undefined && left === undefined) await parts.delete(partsOf(fileId));
  }
  await transaction.done;
}

function leftOverKey(id: string): string {
  return `left-over ${id}`;
}

function leftOverKeys(): IDBKeyRange {
  return IDBKeyRange.bound(leftOverKey(''), 'left-over!', false, true);
}
