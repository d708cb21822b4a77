/**
 * openPhoneStore(owner): what this phone keeps for one person of one business. Each has a database of their own, so
 * nobody else who uses the phone reads or sends any of it. A function that writes is done only when the browser has
 * put it on the disk: what a screen calls kept survives the app being ended at any moment.
 */
import { startDigest } from '@grainwright/domain';
import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import type { KeptAction, KeptFile, PhoneAction, Refusal } from './action.ts';
import { nextToSend } from './needs.ts';

/** Whose things these are: a person, as staff of one business. */
export interface PhoneOwner {
  readonly tenantId: string;
  readonly personId: string;
}

export interface PhoneStore {
  readonly owner: PhoneOwner;
  /**
   * Keeps an action with its file, given here or kept before in parts under the action's id: what it answers with is
   * on the disk. The same id again changes nothing. Throws `PhoneFullError` where the phone has no room; what was kept before stays.
   */
  keepAction(action: PhoneAction, file?: Blob): Promise<KeptAction>;
  /** One more part of a file that is still being made, e.g. a recording; `place` counts from 0. */
  keepPart(fileId: string, place: number, part: Blob): Promise<void>;
  /** The file that belongs to an action, its parts in order; null where there is none. */
  readFile(fileId: string): Promise<Blob | null>;
  dropFile(fileId: string): Promise<void>;
  /** In the order in which they were done. */
  listActions(): Promise<readonly KeptAction[]>;
  /** The first that can be sent now, but for those passed over and what needs them; null where nothing waits or all that waits needs something that was refused. */
  nextAction(passedOver?: ReadonlySet<string>): Promise<KeptAction | null>;
  markProgress(id: string, sentBytes: number): Promise<void>;
  markSent(id: string, at: string): Promise<void>;
  markConflict(id: string, refusal: Refusal, serverHas: unknown): Promise<void>;
  markTried(id: string, why: string): Promise<void>;
  /** Its file did not arrive whole: it is sent again, and how often is counted. */
  markDamaged(id: string, why: string): Promise<void>;
  /** Sends it again, where given with another body. */
  markWaiting(id: string, action?: PhoneAction): Promise<void>;
  /** Not to be sent any more; kept as a note. */
  markDropped(id: string): Promise<void>;
  /** Forgets what the server has had since before that moment, with its files. */
  forgetSent(before: string): Promise<void>;
  readSnapshot(): Promise<unknown>;
  keepSnapshot(snapshot: unknown): Promise<void>;
  /** Calls back after each change, also one made in another window or by the worker. Answers with how to stop. */
  onChange(changed: () => void): () => void;
  close(): void;
}

/** The phone has no room for it: nothing of it was kept. */
export class PhoneFullError extends Error {}

interface PhoneSchema extends DBSchema {
  actions: { key: number; value: KeptAction; indexes: { id: string } };
  /** Bytes and not blobs: some browsers lose a blob that stays long. */
  parts: { key: [string, number]; value: { bytes: ArrayBuffer; mediaType: string } };
  things: { key: string; value: unknown };
}

export async function openPhoneStore(owner: PhoneOwner): Promise<PhoneStore> {
  const name = databaseName(owner);
  const database = await openDB<PhoneSchema>(name, 1, {
    upgrade(made) {
      made
        .createObjectStore('actions', { keyPath: 'order' })
        .createIndex('id', 'action.id', { unique: true });
      made.createObjectStore('parts');
      made.createObjectStore('things');
    },
    blocking: () => database.close(),
  });
  return storeOn(database, owner, name);
}

export function databaseName({ tenantId, personId }: PhoneOwner): string {
  return `grainwright-phone-${tenantId}-${personId}`;
}

function storeOn(database: IDBPDatabase<PhoneSchema>, owner: PhoneOwner, name: string): PhoneStore {
  const told = changesOf(name);
  const change = async (id: string, next: (kept: KeptAction) => KeptAction): Promise<void> => {
    const transaction = database.transaction('actions', 'readwrite', onDisk);
    const kept = await transaction.store.index('id').get(id);
    if (kept !== undefined) await transaction.store.put(next(kept));
    await transaction.done;
    told.tell();
  };
  const listActions = () => database.getAll('actions');
  return {
    owner,
    ...filesOn(database, told.tell),
    listActions,
    nextAction: async (passedOver) => nextToSend(await listActions(), passedOver),
    markProgress: (id, sentBytes) => change(id, (kept) => ({ ...kept, sentBytes, lastTry: null })),
    markTried: (id, lastTry) => change(id, (kept) => ({ ...kept, lastTry })),
    markDamaged: (id, lastTry) =>
      change(id, (kept) => ({ ...kept, lastTry, damagedTries: (kept.damagedTries ?? 0) + 1 })),
    markSent: (id, sentAt) =>
      change(id, (kept) => ({
        ...kept,
        state: 'sent',
        sentAt,
        refusal: null,
        serverHas: null,
        lastTry: null,
      })),
    markConflict: (id, refusal, serverHas) =>
      change(id, (kept) => ({ ...kept, state: 'conflict', refusal, serverHas, lastTry: null })),
    markWaiting: (id, action) =>
      change(id, (kept) => ({
        ...kept,
        action: action ?? kept.action,
        state: 'waiting',
        damagedTries: 0,
        refusal: null,
        serverHas: null,
        lastTry: null,
      })),
    markDropped: (id) => change(id, (kept) => ({ ...kept, state: 'dropped', lastTry: null })),
    forgetSent: (before) => forgetSent(database, before).then(told.tell),
    readSnapshot: () => database.get('things', 'snapshot'),
    keepSnapshot: async (snapshot) => {
      await database.put('things', snapshot, 'snapshot');
      told.tell();
    },
    onChange: told.listen,
    close: () => {
      told.close();
      database.close();
    },
  };
}

/** Done means on the disk, and not only in the browser's memory. */
const onDisk = { durability: 'strict' } as const;

type Files = Pick<PhoneStore, 'keepAction' | 'keepPart' | 'readFile' | 'dropFile'>;

function filesOn(database: IDBPDatabase<PhoneSchema>, tell: () => void): Files {
  const put = async (fileId: string, place: number, part: Blob) => {
    const bytes = await part.arrayBuffer();
    await roomFor(async () => {
      const transaction = database.transaction('parts', 'readwrite', onDisk);
      await transaction.store.put({ bytes, mediaType: part.type }, [fileId, place]);
      await transaction.done;
    });
  };
  return {
    keepAction: async (action, blob) => {
      const before = await database.getFromIndex('actions', 'id', action.id);
      if (before !== undefined) return before;
      // A file without its action is nothing yet: were the app ended here, nothing was called kept.
      if (blob !== undefined) await put(action.id, 0, blob);
      const file = await measured(database, action.id);
      const kept = await roomFor(() => addAction(database, action, file));
      tell();
      return kept;
    },
    keepPart: put,
    readFile: (fileId) => readParts(database, fileId),
    dropFile: (fileId) => database.delete('parts', partsOf(fileId)),
  };
}

async function addAction(
  database: IDBPDatabase<PhoneSchema>,
  action: PhoneAction,
  file: KeptFile | null,
): Promise<KeptAction> {
  const transaction = database.transaction('actions', 'readwrite', onDisk);
  // Two windows may keep the same: the second finds it.
  const before = await transaction.store.index('id').get(action.id);
  if (before !== undefined) return before;
  const last = await transaction.store.openKeyCursor(null, 'prev');
  const fresh: KeptAction = {
    order: (last?.key ?? 0) + 1,
    action,
    state: 'waiting',
    file,
    sentBytes: 0,
    refusal: null,
    serverHas: null,
    lastTry: null,
    sentAt: null,
  };
  await transaction.store.add(fresh);
  await transaction.done;
  return fresh;
}

/** Size and digest of a file, read part by part: a recording is too large to be held at once. */
async function measured(database: IDBPDatabase<PhoneSchema>, fileId: string): Promise<KeptFile | null> {
  const digest = startDigest();
  let bytes = 0;
  let mediaType: string | null = null;
  let cursor = await database.transaction('parts').store.openCursor(partsOf(fileId));
  while (cursor !== null) {
    const part = cursor.value;
    digest.add(new Uint8Array(part.bytes));
    bytes += part.bytes.byteLength;
    mediaType ??= part.mediaType;
    cursor = await cursor.continue();
  }
  return mediaType === null ? null : { bytes, sha256: digest.hex(), mediaType };
}

async function roomFor<T>(write: () => Promise<T>): Promise<T> {
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

function partsOf(fileId: string): IDBKeyRange {
  return IDBKeyRange.bound([fileId, 0], [fileId, Number.POSITIVE_INFINITY]);
}

async function readParts(database: IDBPDatabase<PhoneSchema>, fileId: string): Promise<Blob | null> {
  const parts = await database.getAll('parts', partsOf(fileId));
  const [first] = parts;
  if (first === undefined) return null;
  const pieces = parts.map(({ bytes }) => bytes);
  return new Blob(pieces, { type: first.mediaType });
}

async function forgetSent(database: IDBPDatabase<PhoneSchema>, before: string): Promise<void> {
  const transaction = database.transaction(['actions', 'parts'], 'readwrite');
  const actions = transaction.objectStore('actions');
  for (const { order, action, state, sentAt } of await actions.getAll()) {
    if (state !== 'sent' || sentAt === null || sentAt >= before) continue;
    await actions.delete(order);
    await transaction.objectStore('parts').delete(partsOf(action.id));
  }
  await transaction.done;
}

/** Changes are told to every window of this phone, and to this one. */
function changesOf(name: string) {
  const listeners = new Set<() => void>();
  const channel = new BroadcastChannel(name);
  const tellHere = () => {
    for (const listener of listeners) listener();
  };
  channel.addEventListener('message', tellHere);
  return {
    tell: () => {
      channel.postMessage('changed');
      tellHere();
    },
    listen: (changed: () => void) => {
      listeners.add(changed);
      return () => {
        listeners.delete(changed);
      };
    },
    close: () => channel.close(),
  };
}
