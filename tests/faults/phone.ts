import { createHash } from 'node:crypto';
import { once } from 'node:events';
import { request } from 'node:http';
import { json } from 'node:stream/consumers';
import { multipart } from '../support/multipart.ts';
import type { WorkInHand } from '../support/work-in-hand.ts';

/** A photo as a phone keeps it until the server has answered for it. */
export interface PhotoToSend {
  readonly photoId: string;
  readonly uploadId: string;
  readonly bytes: Buffer;
  readonly sha256: string;
}

export interface PhoneWorld {
  readonly token: { readonly authorization: string };
  readonly work: WorkInHand;
  /** The port of the server that is up; it waits while there is none. */
  port(): Promise<number>;
  /** Told of every few bytes that went out. */
  sent(bytes: number): void;
}

const partBytes = 12_000;
const chunkBytes = 3000;

/** By the process itself: sessions go by its clock. */
export async function signIn(port: number, email: string, password: string): Promise<PhoneWorld['token']> {
  const headers = { 'content-type': 'application/json' };
  const payload = Buffer.from(JSON.stringify({ email, password }));
  const toSend = { method: 'POST', path: '/api/v1/sessions', headers, payload };
  const { status, body } = await ask({ sent: () => undefined }, toSend, port);
  if (typeof body === 'object' && body !== null && 'token' in body)
    return { authorization: `Bearer ${String(body.token)}` };
  throw new Error(`signing in was answered ${status}: ${JSON.stringify(body)}`);
}

/** In one request, again and again until it is answered. */
export async function sendWhole(world: PhoneWorld, photo: PhotoToSend): Promise<void> {
  const { work, token } = world;
  const fields = { photo_id: photo.photoId, line_id: work.lineId, purpose: 'progress' };
  const { payload, headers } = multipart(fields, { name: 'photo.jpg', bytes: photo.bytes });
  const path = `/api/v1/work-orders/${work.workOrderId}/photos`;
  const answer = await untilAnswered(world, {
    method: 'POST',
    path,
    headers: { ...headers, ...token },
    payload,
  });
  expectAdded(answer, photo);
}

/** Part by part, from where the server says that it goes on. */
export async function sendInParts(world: PhoneWorld, photo: PhotoToSend): Promise<void> {
  const { work } = world;
  let { offset } = await announce(world, photo);
  while (offset < photo.bytes.length) {
    const part = photo.bytes.subarray(offset, offset + partBytes);
    const answer = await untilAnswered(world, partRequest(world, photo, offset, part));
    if (answer.status !== 200 && answer.status !== 409) throw new Error(JSON.stringify(answer));
    offset = numberIn(answer.body, 'offset');
  }
  const added = await untilAnswered(world, {
    method: 'POST',
    path: `/api/v1/work-orders/${work.workOrderId}/photos/from-upload`,
    ...jsonOf(world, {
      photo_id: photo.photoId,
      upload_id: photo.uploadId,
      purpose: 'progress',
      line_id: work.lineId,
    }),
  });
  expectAdded(added, photo);
}

async function announce(world: PhoneWorld, { uploadId, bytes, sha256 }: PhotoToSend) {
  const announced = { upload_id: uploadId, bytes: bytes.length, sha256, media_type: 'image/jpeg' };
  const answer = await untilAnswered(world, {
    method: 'POST',
    path: '/api/v1/uploads',
    ...jsonOf(world, announced),
  });
  if (answer.status > 201) throw new Error(JSON.stringify(answer));
  return { offset: numberIn(answer.body, 'offset') };
}

function partRequest({ token }: PhoneWorld, photo: PhotoToSend, offset: number, part: Buffer): ToSend {
  const digest = createHash('sha256').update(part).digest('base64');
  const headers = {
    ...token,
    'content-type': 'application/octet-stream',
    'upload-offset': String(offset),
    'content-digest': `sha-256=:${digest}:`,
  };
  return { method: 'PATCH', path: `/api/v1/uploads/${photo.uploadId}`, headers, payload: part };
}

function jsonOf({ token }: PhoneWorld, body: object) {
  const headers = { ...token, 'content-type': 'application/json' };
  return { headers, payload: Buffer.from(JSON.stringify(body)) };
}

interface ToSend {
  readonly method: string;
  readonly path: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly payload: Buffer;
}

interface Answer {
  readonly status: number;
  readonly body: unknown;
}

async function untilAnswered(world: PhoneWorld, toSend: ToSend): Promise<Answer> {
  for (;;) {
    const port = await world.port();
    const answer = await ask(world, toSend, port).catch((error: unknown) => {
      if (isLostConnection(error)) return null;
      throw error;
    });
    // 503: another request of ours, whose answer was lost, is at it.
    if (answer !== null && answer.status !== 503) return answer;
  }
}

async function ask(
  world: Pick<PhoneWorld, 'sent'>,
  { method, path, headers, payload }: ToSend,
  port: number,
) {
  const asking = request({
    host: '127.0.0.1',
    port,
    method,
    path,
    agent: false,
    headers: { ...headers, 'content-length': payload.length },
  });
  const answered = once(asking, 'response');
  // Lost while it is still sending: told below all the same.
  answered.catch(() => undefined);
  for (let at = 0; at < payload.length && !asking.destroyed; at += chunkBytes) {
    const chunk = payload.subarray(at, at + chunkBytes);
    await new Promise<void>((done) => asking.write(chunk, () => done()));
    world.sent(chunk.length);
  }
  asking.end();
  const [response] = await answered;
  return { status: Number(response.statusCode), body: await json(response) };
}

function isLostConnection(error: unknown): boolean {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  return ['ECONNRESET', 'ECONNREFUSED', 'EPIPE', 'ERR_STREAM_DESTROYED'].includes(code) || isCutAnswer(error);
}

/** An answer that ends in its middle. */
function isCutAnswer(error: unknown): boolean {
  return error instanceof SyntaxError || (error instanceof Error && error.message === 'aborted');
}

function expectAdded({ status, body }: Answer, { photoId, sha256 }: PhotoToSend): void {
  const added = typeof body === 'object' && body !== null ? body : {};
  if (status === 201 && 'id' in added && added.id === photoId && 'sha256' in added && added.sha256 === sha256)
    return;
  throw new Error(`${photoId} was answered ${status}: ${JSON.stringify(body)}`);
}

function numberIn(body: unknown, name: string): number {
  if (typeof body === 'object' && body !== null && name in body) {
    const value: unknown = Object.getOwnPropertyDescriptor(body, name)?.value;
    if (typeof value === 'number') return value;
  }
  throw new Error(`no ${name} in ${JSON.stringify(body)}`);
}
