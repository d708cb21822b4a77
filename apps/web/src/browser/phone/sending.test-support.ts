import { digestHex } from '@grainwright/domain';
import type { PhoneAction } from './action.ts';
import { openPhoneStore, type PhoneStore } from './store.ts';

/** A service that takes what a phone sends, as far as the queue depends on it, and what a phone has to send. */

export type Loss = 'nothing' | 'request' | 'answer' | 'busy' | 'too_many' | 'damaged' | 'refused';

/** What the fake service says where it only happens so; everything else it says is about what the phone sent too early. */
export const drawn = ['drawn', 'upload_digest'];

interface Order {
  state: 'written_up' | 'approved' | 'in_work' | 'done' | 'accepted';
  readonly lines: string[];
  readonly photos: { readonly id: string; readonly purpose: string }[];
}

/**
 * A service that does each action once by its id and only where the work order stands for it, as ours does, behind a line
 * that loses what it is told to: a request that never arrives, an answer that never comes back, a proxy's 503, a 429, a
 * file that arrives changed, a refusal. Parts of files are small, so that a file takes several.
 */
export function service(losses: readonly Loss[]) {
  const done: string[] = [];
  const ids = new Set<string>();
  const orders = new Map<string, Order>();
  const uploads = new Map<string, { bytes: number; sha256: string; held: Uint8Array }>();
  const partBytesMax = 5;
  let asked = 0;
  const answer = (body: unknown, status = 200) =>
    new Response(JSON.stringify(body), { status, headers: { 'content-type': 'application/json' } });
  const refusal = (code: string, status = 409) => answer({ code, detail: `Refused: ${code}.` }, status);
  const stateOf = (id: string) => {
    const upload = uploads.get(id);
    if (upload === undefined) return refusal('not_found', 404);
    const offset = upload.held.length;
    return answer({ offset, part_bytes_max: partBytesMax, complete: offset === upload.bytes });
  };
  const takeUpload = async (path: string, init: RequestInit): Promise<Response> => {
    if (path === '/api/v1/uploads') {
      const { upload_id, bytes, sha256 } = JSON.parse(String(init.body));
      if (!uploads.has(upload_id)) uploads.set(upload_id, { bytes, sha256, held: new Uint8Array() });
      return stateOf(upload_id);
    }
    const uploadId = path.replace('/api/v1/uploads/', '');
    const upload = uploads.get(uploadId);
    if (init.method === 'GET' || upload === undefined) return stateOf(uploadId);
    if (Number(new Headers(init.headers).get('upload-offset')) !== upload.held.length)
      return refusal('upload_offset');
    const part = new Uint8Array(await new Response(init.body).arrayBuffer());
    upload.held = new Uint8Array([...upload.held, ...part]);
    return stateOf(uploadId);
  };
  const carryOut = async (path: string, init: RequestInit): Promise<Response> => {
    if (path.startsWith('/api/v1/uploads')) return takeUpload(path, init);
    const [, orderId = '', step = ''] = /^\/api\/v1\/work-orders(?:\/([^/]+)\/(.+))?$/.exec(path) ?? [];
    if (init.method === 'GET') return answer({});
    const body = JSON.parse(String(init.body));
    const id: string = body.photo_id ?? body.id;
    if (ids.has(id)) return answer({ id }, 201);
    if (body.upload_id !== undefined) {
      const upload = uploads.get(body.upload_id);
      if (upload === undefined || digestHex(upload.held) !== upload.sha256) return refusal('upload_missing');
    }
    const trouble = orderId === '' ? begin(orders, id) : advance(orders.get(orderId), step, { ...body, id });
    if (trouble !== null) return refusal(trouble);
    ids.add(id);
    done.push(id);
    return answer({ id }, 201);
  };
  return {
    done,
    orders,
    uploads,
    fetch: async (path: string, init: RequestInit) => {
      const loss = losses[asked] ?? 'nothing';
      asked += 1;
      if (loss === 'request') throw new TypeError('Failed to fetch');
      if (loss === 'busy') return new Response('Bad gateway', { status: 503 });
      if (loss === 'too_many') return refusal('too_many_requests', 429);
      const isAction = init.method === 'POST' && path !== '/api/v1/uploads';
      if (loss === 'refused' && isAction) return refusal('drawn');
      if (loss === 'damaged' && path.endsWith('/from-upload')) {
        uploads.clear();
        return refusal('upload_digest', 422);
      }
      const reply = await carryOut(path, init);
      if (loss === 'answer') throw new TypeError('Failed to fetch');
      return reply;
    },
  };
}

export function begin(orders: Map<string, Order>, id: string): string | null {
  orders.set(id, { state: 'written_up', lines: [], photos: [] });
  return null;
}

interface Sent {
  readonly id: string;
  readonly purpose: string;
  readonly line_id: string | null;
  readonly shown?: readonly string[];
}

/** The rules of the work order, of `transition` and `checkPlace`: null, or the code of the refusal. */
function advance(
  order: Order | undefined,
  step: string,
  { id, purpose, line_id, shown }: Sent,
): string | null {
  if (order === undefined) return 'not_found';
  const { state, lines, photos } = order;
  const has = (wanted: string) => photos.some((photo) => photo.purpose === wanted);
  switch (step) {
    case 'lines':
      if (state !== 'written_up') return 'wrong_state';
      lines.push(id);
      return null;
    case 'photos/from-upload':
      if (state === 'accepted' || (purpose === 'after' && state !== 'in_work' && state !== 'done'))
        return 'wrong_state';
      if (line_id !== null && !lines.includes(line_id)) return 'invalid_input';
      photos.push({ id, purpose });
      return null;
    case 'estimate':
      if (lines.length === 0) return 'line_missing';
      return pass(order, 'written_up', 'approved');
    case 'start':
      return has('before') ? pass(order, 'approved', 'in_work') : 'photo_missing';
    case 'finish':
      return has('after') ? pass(order, 'in_work', 'done') : 'photo_missing';
    case 'acceptance':
      if (state === 'done' && String(shown) !== String(shownOf(order))) return 'shown_changed';
      return pass(order, 'done', 'accepted');
    default:
      return 'not_found';
  }
}

function pass(order: Order, from: Order['state'], to: Order['state']): string | null {
  if (order.state !== from) return 'wrong_state';
  order.state = to;
  return null;
}

/** What is signed names the photos before and after, each in the order in which they came. */
export function shownOf({ photos }: Pick<Order, 'photos'>): readonly string[] {
  return ['before', 'after'].flatMap((purpose) =>
    photos.filter((photo) => photo.purpose === purpose).map(({ id }) => id),
  );
}

export const order = '01990000-0000-7000-8000-000000000001';
export const other = '01990000-0000-7000-8000-000000000002';
let stores = 0;

export function freshStore(): Promise<PhoneStore> {
  stores += 1;
  return openPhoneStore({ tenantId: 'of-sender', personId: `person-${stores}` });
}

export function frame(id: string, workOrderId = order) {
  return { id, workOrderId, madeAt: '2026-08-05T09:00:00-05:00' };
}

export function photo(
  id: string,
  lineId: string | null,
  purpose = 'before',
  workOrderId = order,
): PhoneAction {
  const body = { purpose, line_id: lineId, captured_at: '2026-08-05T09:00:00-05:00' };
  return { ...frame(id, workOrderId), kind: 'photo', body };
}

export function act(
  kind: 'line' | 'estimate' | 'start' | 'finish',
  id: string,
  workOrderId = order,
): PhoneAction {
  return { ...frame(id, workOrderId), kind, body: { id } };
}

export function acceptance(id: string, shown: readonly string[]): PhoneAction {
  return { ...frame(id), kind: 'acceptance', body: { id, shown } };
}

export function picture(text: string): Blob {
  return new Blob([text], { type: 'image/jpeg' });
}

type Story = readonly (readonly [PhoneAction, Blob?])[];

export const story: Story = [
  [{ ...frame(order), kind: 'write_up', body: { id: order } }],
  [act('line', 'line-1')],
  [photo('photo-1', 'line-1'), picture('seventeen letters')],
  [photo('photo-2', 'line-1'), picture('another picture')],
  [act('estimate', 'version-1')],
  [act('start', 'start-1')],
];

/** To its end, with two lines, and photos of each kind of which some are taken late. */
export const visit: Story = [
  ...story.slice(0, 3),
  [act('line', 'line-2')],
  [photo('photo-2', 'line-2'), picture('another picture')],
  ...story.slice(4),
  [photo('after-1', 'line-1', 'after'), picture('it is done')],
  [photo('photo-3', 'line-1'), picture('one more')],
  [photo('after-2', 'line-2', 'after'), picture('so is this')],
  [act('finish', 'finish-1')],
  [acceptance('acceptance-1', ['photo-1', 'photo-2', 'photo-3', 'after-1', 'after-2'])],
];

export async function keepAll(store: PhoneStore, told: Story): Promise<void> {
  for (const [action, file] of told) await store.keepAction(action, file);
}
