/**
 * sendWaiting({store, fetch, now}): sends what waits on this phone, one action after the other in the order in which it
 * was done. What was not answered is sent again as it was: every action has an id made on the phone, under which the
 * server does it once. What the server refuses is marked and stops only what needs it; so does what it can't take just now.
 */
import { digestBytes } from '@grainwright/domain';
import type { KeptAction, KeptFile, PhoneAction, Refusal } from './action.ts';
import { requestOf, uploadIdOf } from './request.ts';
import type { PhoneOwner, PhoneStore } from './store.ts';

export interface Sending {
  readonly store: Pick<
    PhoneStore,
    | 'owner'
    | 'nextAction'
    | 'readFile'
    | 'markProgress'
    | 'markSent'
    | 'markConflict'
    | 'markTried'
    | 'markDamaged'
  >;
  readonly fetch: (path: string, init: RequestInit) => Promise<Response>;
  /** The time, ISO 8601. */
  readonly now: () => string;
}

/**
 * all: nothing is left that can be sent. no_answer: nothing came through. later: the service was reached, and could not
 * take all of it just now. signed_out: the person has to sign in again first.
 */
export type SendingEnd = 'all' | 'no_answer' | 'later' | 'signed_out';

export async function sendWaiting(sending: Sending): Promise<SendingEnd> {
  const { store } = sending;
  const passedOver = new Set<string>();
  for (;;) {
    const kept = await store.nextAction(passedOver);
    if (kept === null) return passedOver.size === 0 ? 'all' : 'later';
    const { id } = kept.action;
    const answer = await sendOne(sending, kept);
    if (answer.kind === 'signed_out') return 'signed_out';
    if (answer.kind === 'later') {
      await store.markTried(id, answer.why);
      if (!answer.answered) return 'no_answer';
      passedOver.add(id);
    } else if (answer.kind === 'refused' && isDamage(answer.refusal, kept)) {
      await store.markDamaged(id, answer.refusal.detail);
      passedOver.add(id);
    } else if (answer.kind === 'refused')
      await store.markConflict(id, answer.refusal, await readServerHas(sending, kept, answer.refusal));
    else await store.markSent(id, sending.now());
  }
}

/** A file that arrived changed or not whole is sent again, from where the server says; not without end. */
const damagedTriesMax = 5;

function isDamage({ code }: Refusal, { damagedTries = 0 }: KeptAction): boolean {
  return ['upload_digest', 'upload_unfinished'].includes(code) && damagedTries < damagedTriesMax;
}

type Answer =
  | { readonly kind: 'done'; readonly body: unknown }
  /** `answered`: the service was reached, so other things may come through. */
  | { readonly kind: 'later'; readonly why: string; readonly answered: boolean }
  | { readonly kind: 'signed_out' }
  | { readonly kind: 'refused'; readonly refusal: Refusal; readonly body: unknown };

async function sendOne(sending: Sending, kept: KeptAction): Promise<Answer> {
  if (kept.file !== null) {
    const sent = await sendFile(sending, kept, kept.file);
    if (sent.kind !== 'done') return sent;
  }
  const { method, path, body, headers } = requestOf(kept.action);
  return ask(sending, path, { method, body: JSON.stringify(body), headers: { ...asJson, ...headers } });
}

const asJson = { 'content-type': 'application/json' };

/** In parts, going on where the server says; each with its digest, so that no part is kept that came damaged. */
async function sendFile(sending: Sending, kept: KeptAction, file: KeptFile): Promise<Answer> {
  const id = uploadIdOf(kept.action);
  const { bytes, sha256, mediaType } = file;
  const announced = { upload_id: id, bytes, sha256, media_type: mediaType };
  const begun = await ask(sending, '/api/v1/uploads', {
    method: 'POST',
    body: JSON.stringify(announced),
    headers: asJson,
  });
  if (begun.kind !== 'done') return begun;
  let at = uploadIn(begun.body);
  if (at === null) return unreadable;
  if (at.complete) return begun;
  const blob = await sending.store.readFile(kept.action.id);
  if (blob === null) return lostFile;
  while (!at.complete) {
    const part = new Uint8Array(await blob.slice(at.offset, at.offset + at.partBytesMax).arrayBuffer());
    const answer = await sendPart(sending, id, { offset: at.offset, part });
    if (answer.kind !== 'done') return answer;
    const next = uploadIn(answer.body);
    if (next === null || (next.offset === at.offset && !next.complete)) return unreadable;
    at = next;
    await sending.store.markProgress(kept.action.id, at.offset);
  }
  return { kind: 'done', body: null };
}

async function sendPart(
  sending: Sending,
  id: string,
  { offset, part }: { readonly offset: number; readonly part: Uint8Array<ArrayBuffer> },
): Promise<Answer> {
  const answer = await ask(sending, `/api/v1/uploads/${id}`, {
    method: 'PATCH',
    body: part,
    headers: {
      'content-type': 'application/octet-stream',
      'upload-offset': String(offset),
      'content-digest': `sha-256=:${btoa(String.fromCharCode(...digestBytes(part)))}:`,
    },
  });
  // Held up to somewhere else already, since an answer was lost: go on from there.
  if (answer.kind !== 'refused' || answer.refusal.code !== 'upload_offset') return answer;
  return ask(sending, `/api/v1/uploads/${id}`, { method: 'GET', headers: {} });
}

const unreadable: Answer = {
  kind: 'later',
  why: 'The service answered something else than expected.',
  answered: true,
};

const noAnswer: Answer = { kind: 'later', why: 'No answer came.', answered: false };

const lostFile: Answer = {
  kind: 'refused',
  refusal: { status: 0, code: 'file_lost', detail: 'The browser of this phone has lost the file.' },
  body: null,
};

interface Upload {
  readonly offset: number;
  readonly partBytesMax: number;
  readonly complete: boolean;
}

function uploadIn(body: unknown): Upload | null {
  if (!hasAll(body, ['offset', 'part_bytes_max', 'complete'])) return null;
  const { offset, part_bytes_max: partBytesMax, complete } = body;
  if (typeof offset !== 'number' || typeof partBytesMax !== 'number' || typeof complete !== 'boolean')
    return null;
  return partBytesMax > 0 ? { offset, partBytesMax, complete } : null;
}

/**
 * What the server has now, to be shown beside what was refused: the other work order of the vehicle where the refusal names
 * one, else the work order itself.
 */
async function readServerHas(
  sending: Sending,
  { action }: KeptAction,
  { code, detail }: Refusal,
): Promise<unknown> {
  const look = code === 'duplicate' ? earlierPathOf(action) : null;
  const earlier = look === null ? null : await read(sending, look);
  const another = hasAll(earlier, ['earlier']) ? namedIn(detail, earlier.earlier) : null;
  return read(sending, `/api/v1/work-orders/${another ?? action.workOrderId}`);
}

async function read(sending: Sending, path: string): Promise<unknown> {
  const answer = await ask(sending, path, { method: 'GET', headers: {} });
  return answer.kind === 'done' ? answer.body : null;
}

/** Where the server lists what was written up of the same vehicle lately; null where it takes the action for no other one’s. */
function earlierPathOf({ kind, workOrderId, body }: PhoneAction): string | null {
  if (kind === 'line') return `/api/v1/work-orders/${workOrderId}/earlier-work`;
  if (kind !== 'write_up') return null;
  const said = (name: string) => textIn(body, name);
  const vin = said('vin') === '' ? said('last_eight') : said('vin');
  const query = new URLSearchParams({ vin, own_number: said('own_number'), day: said('day') });
  return `/api/v1/accounts/${said('account_id')}/vehicle-look-up?${query}`;
}

/** The id of the listed work order whose number the words say: “… open WO-116 instead …”. */
function namedIn(words: string, listed: unknown): string | null {
  const numbers = [...words.matchAll(/\bWO-(\d+)/g)].map(([, number]) => number);
  const found = (Array.isArray(listed) ? listed : []).find(
    (each: unknown) => hasAll(each, ['id', 'number']) && numbers.includes(String(each.number)),
  );
  return hasAll(found, ['id']) && typeof found.id === 'string' ? found.id : null;
}

function textIn(body: object, name: string): string {
  const value: unknown = Reflect.get(body, name);
  return typeof value === 'string' ? value : '';
}

async function ask(
  { fetch, store }: Sending,
  path: string,
  init: RequestInit & { readonly headers: Readonly<Record<string, string>> },
): Promise<Answer> {
  let reply: Response;
  let body: unknown;
  try {
    const headers = {
      ...init.headers,
      accept: 'application/json',
      'x-grainwright-person': nameOf(store.owner),
    };
    reply = await fetch(path, { ...init, headers, credentials: 'same-origin', cache: 'no-store' });
  } catch {
    return noAnswer;
  }
  try {
    body = await reply.json();
  } catch {
    // Cut off on the way, or somebody else's page in place of the answer.
    if (reply.ok) return noAnswer;
  }
  if (reply.ok) return { kind: 'done', body };
  if (isSignedOut(reply.status, body)) return { kind: 'signed_out' };
  const refusal = refusalIn(reply.status, body);
  // What a proxy or a restarting service says is nobody's decision about the action.
  if (reply.status >= 500 || [401, 408, 429].includes(reply.status) || refusal === null)
    return {
      kind: 'later',
      why: refusal?.detail ?? `The service answered ${reply.status}.`,
      answered: reply.status !== 401,
    };
  return { kind: 'refused', refusal, body };
}

/** Only the service knows that the person has to sign in; a network that asks for a sign-in of its own says 401 as well. */
export function isSignedOut(status: number, body: unknown): boolean {
  return status === 401 && refusalIn(status, body)?.code === 'not_signed_in';
}

/** As the service is told whose things these are. */
export function nameOf({ tenantId, personId }: PhoneOwner): string {
  return `${tenantId}.${personId}`;
}

function refusalIn(status: number, body: unknown): Refusal | null {
  if (!hasAll(body, ['code', 'detail'])) return null;
  const { code, detail, field } = body;
  if (typeof code !== 'string' || typeof detail !== 'string') return null;
  return { status, code, detail, ...(typeof field === 'string' ? { field } : {}) };
}

function hasAll(body: unknown, names: readonly string[]): body is Readonly<Record<string, unknown>> {
  return typeof body === 'object' && body !== null && names.every((name) => name in body);
}
