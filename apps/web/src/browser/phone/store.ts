/**
 * openPhoneStore(owner): what this phone keeps for one person of one business. Each has a database of their own, so
 * nobody else who uses the phone reads or sends any of it. A function that writes is done only when the browser has
 * put it on the disk: what a screen calls kept survives the app being ended at any moment.
 */
import { digestHex, startDigest } from '@grainwright/domain';
import { type IDBPDatabase, openDB } from 'idb';
import type { KeptAction, KeptFile, PhoneAction, Refusal } from './action.ts';
import { finishedIn } from './finished-there.ts';
import { leftOversOn } from './kept-left-overs.ts';
import type { LeftOver } from './left-over.ts';
import { holdsAnswer, nextToSend } from './needs.ts';
import { newId } from './new-id.ts';
import {
  databaseName,
  OtherThingError,
  onDisk,
  type Part,
  type PhoneSchema,
  partsOf,
  roomFor,
} from './phone-database.ts';

/** Whose things these are: a person, as staff of one business. */
export interface PhoneOwner {
  readonly tenantId: string;
  readonly personId: string;
}

export interface PhoneStore {
  readonly owner: PhoneOwner;
  /**
   * Keeps an action with its file, given here or kept before in parts under the action's id: what it answers with is
   * on the disk. The same again under its id changes nothing; something else throws `OtherThingError`. Throws `PhoneFullError` where the phone has no room; what was kept before stays.
   */
  keepAction(action: PhoneAction, file?: Blob): Promise<KeptAction>;
  /** One more part of a file that is still being made, e.g. a recording; `place` counts from 0. */
  keepPart(fileId: string, place: number, part: Blob): Promise<void>;
  /** The file that belongs to an action, its parts in order; null where there is none. */
  readFile(fileId: string): Promise<Blob | null>;
  /** Recordings that are not an action yet, in the order of their ids; one more never takes the place of another. */
  listLeftOvers(): Promise<readonly LeftOver[]>;
  /** Before the first part of it is kept, and again when more is known of it. */
  keepLeftOver(left: LeftOver): Promise<void>;
  /** It has become an action, or somebody threw it away: then its parts go as well. */
  dropLeftOver(id: string): Promise<void>;
  /** Lets go of parts that belong to no action and no left-over: what could not be kept whole. */
  sweepParts(): Promise<void>;
  /** In the order in which they were done. */
  listActions(): Promise<readonly KeptAction[]>;
  /** The first that can be sent now, but for those passed over and what needs them; null where nothing waits or all that waits needs something that was refused or given up. */
  nextAction(passedOver?: ReadonlySet<string>): Promise<KeptAction | null>;
  markProgress(id: string, sentBytes: number): Promise<void>;
  markSent(id: string, at: string): Promise<void>;
  markConflict(id: string, refusal: Refusal, serverHas: unknown): Promise<void>;
  markTried(id: string, why: string): Promise<void>;
  /** Its file did not arrive whole: it is sent again, and how often is counted. */
  markDamaged(id: string, why: string): Promise<void>;
  /** Sends it again as it is. */
  markWaiting(id: string): Promise<void>;
  /**
   * Puts a mended one in place of an action that was refused: `amended` is that action (same `id` and `kind`) with another
   * `body`. It keeps its place, its file and its id, and is sent again; only where the server has that id for something
   * else (`id_reused`) and nothing else names it, it gets a fresh one, also as the body's `id`. Answers with the id that
   * it has now, which is on the disk; null where it is not in conflict any more, and then nothing is changed.
   */
  amendAction(amended: PhoneAction): Promise<string | null>;
  /** Not to be sent any more; kept as a note. */
  markDropped(id: string): Promise<void>;
  /** Forgets a note with its file; anything else stays, and so does the note of a given-up end of work that an answer waits for. */
  removeNote(id: string): Promise<void>;
  /** Forgets what the server has had since before that moment, with its files. */
  forgetSent(before: string): Promise<void>;
  readSnapshot(): Promise<unknown>;
  keepSnapshot(snapshot: unknown): Promise<void>;
  /** How often `noteChange` was called for this person on this phone. */
  countChanges(): Promise<number>;
  /** What was taken along is out of date: something was sent, or news came. Written at once, before a page is left. */
  noteChange(): Promise<void>;
  /** Calls back after each change, also one made in another window or by the worker. Answers with how to stop. */
  onChange(changed: () => void): () => void;
  close(): void;
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
    ...leftOversOn(database),
    listActions,
    nextAction: async (passedOver) => {
      const actions = await listActions();
      const finishedThere = finishedIn(await database.get('things', 'snapshot'));
      return nextToSend(actions, { finishedThere, ...(passedOver && { passedOver }) });
    },
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
    markWaiting: (id) => change(id, (kept) => ({ ...kept, ...toBeSent })),
    amendAction: async (amended) => {
      let id: string | null = null;
      await change(amended.id, (kept) => {
        if (kept.state !== 'conflict' || kept.action.kind !== amended.kind) return kept;
        const action = underFreeId(amended, kept);
        id = action.id;
        return { ...kept, ...toBeSent, action };
      });
      return id;
    },
    markDropped: (id) => change(id, (kept) => ({ ...kept, state: 'dropped', lastTry: null })),
    removeNote: (id) => removeNote(database, id).then(told.tell),
    forgetSent: (before) => forgetSent(database, before).then(told.tell),
    readSnapshot: () => database.get('things', 'snapshot'),
    keepSnapshot: async (snapshot) => {
      await database.put('things', snapshot, 'snapshot');
      told.tell();
    },
    countChanges: async () => countIn(await database.get('things', 'changes')),
    noteChange: async () => {
      const transaction = database.transaction('things', 'readwrite');
      await transaction.store.put(countIn(await transaction.store.get('changes')) + 1, 'changes');
      await transaction.done;
    },
    onChange: told.listen,
    close: () => {
      told.close();
      database.close();
    },
  };
}

/** Anew: what came of earlier tries is past. */
const toBeSent = {
  state: 'waiting',
  damagedTries: 0,
  refusal: null,
  serverHas: null,
  lastTry: null,
} as const;

/** Its own id, since the server counts none that it refused; another one where it has that id for something else. */
function underFreeId(amended: PhoneAction, { refusal }: KeptAction): PhoneAction {
  if (refusal?.code !== 'id_reused') return amended;
  switch (amended.kind) {
    // A line, a photo, an estimate are named by what was done after them: their ids stay.
    case 'write_up':
    case 'line':
    case 'photo':
    case 'recording':
    case 'estimate':
      return amended;
    case 'photo_reason':
      return { ...amended, id: newId() };
    case 'quote':
    case 'start':
    case 'finish':
    case 'acceptance':
    case 'missing_signature': {
      const id = newId();
      return { ...amended, id, body: 'id' in amended.body ? { ...amended.body, id } : amended.body };
    }
  }
}

type Files = Pick<PhoneStore, 'keepAction' | 'keepPart' | 'readFile'>;

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
      const part = blob && { bytes: await blob.arrayBuffer(), mediaType: blob.type };
      const before = await database.getFromIndex('actions', 'id', action.id);
      if (before !== undefined) return sameThing(before, action, part);
      const file = part === undefined ? await measured(database, action.id) : measuredPart(part);
      const kept = await roomFor(() => addAction(database, action, { file, part }));
      tell();
      return kept;
    },
    keepPart: put,
    readFile: (fileId) => readParts(database, fileId),
  };
}

/** An action and its file are kept together or not at all: no file is left without an action. */
async function addAction(
  database: IDBPDatabase<PhoneSchema>,
  action: PhoneAction,
  { file, part }: { readonly file: KeptFile | null; readonly part: Part | undefined },
): Promise<KeptAction> {
  const transaction = database.transaction(['actions', 'parts'], 'readwrite', onDisk);
  const actions = transaction.objectStore('actions');
  // Two windows may keep the same: the second finds it.
  const before = await actions.index('id').get(action.id);
  if (before !== undefined) return sameThing(before, action, part);
  const last = await actions.openKeyCursor(null, 'prev');
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
  const writes: Promise<unknown>[] = [actions.add(fresh), transaction.done];
  if (part !== undefined) writes.push(transaction.objectStore('parts').put(part, [action.id, 0]));
  await Promise.all(writes);
  return fresh;
}

/** What was kept before under the action’s id; throws `OtherThingError` where the action says something else. */
function sameThing(before: KeptAction, action: PhoneAction, part: Part | undefined): KeptAction {
  const isSame =
    before.action.kind === action.kind &&
    saidIn(before.action) === saidIn(action) &&
    (part === undefined || before.file?.sha256 === measuredPart(part).sha256);
  if (isSame) return before;
  throw new OtherThingError(
    'This page was sent before, with something else in it, which is kept. Go back to the work order and open the page anew.',
  );
}

/** Without the moments and the copy's own id: the same form sent twice has others each time. */
function saidIn({ body }: PhoneAction): string {
  return JSON.stringify(
    Object.fromEntries(Object.entries(body).filter(([name]) => name !== 'copy' && !name.endsWith('_at'))),
  );
}

function measuredPart({ bytes, mediaType }: Part): KeptFile {
  return { bytes: bytes.byteLength, sha256: digestHex(new Uint8Array(bytes)), mediaType };
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

async function readParts(database: IDBPDatabase<PhoneSchema>, fileId: string): Promise<Blob | null> {
  const parts = await database.getAll('parts', partsOf(fileId));
  const [first] = parts;
  if (first === undefined) return null;
  const pieces = parts.map(({ bytes }) => bytes);
  return new Blob(pieces, { type: first.mediaType });
}

async function removeNote(database: IDBPDatabase<PhoneSchema>, id: string): Promise<void> {
  const transaction = database.transaction(['actions', 'parts'], 'readwrite', onDisk);
  const actions = transaction.objectStore('actions');
  const kept = await actions.index('id').get(id);
  if (kept?.state === 'dropped' && !holdsAnswer(kept, await actions.getAll())) {
    await actions.delete(kept.order);
    await transaction.objectStore('parts').delete(partsOf(id));
  }
  await transaction.done;
}

async function forgetSent(database: IDBPDatabase<PhoneSchema>, before: string): Promise<void> {
  const transaction = database.transaction(['actions', 'parts'], 'readwrite');
  const actions = transaction.objectStore('actions');
  const all = await actions.getAll();
  for (const { order, action, state, sentAt } of all) {
    if (state !== 'sent' || sentAt === null || sentAt >= before || holdsAnswer({ action }, all)) continue;
    await actions.delete(order);
    await transaction.objectStore('parts').delete(partsOf(action.id));
  }
  await transaction.done;
}

function countIn(kept: unknown): number {
  return typeof kept === 'number' ? kept : 0;
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
