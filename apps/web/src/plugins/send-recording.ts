import { type OpenRecordingInput, openRecording, type Services } from '@grainwright/operations';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { readRange } from './byte-range.ts';
import { unwrap } from './problem-error.ts';
import { actorOf } from './session.ts';

/**
 * Sends a recording, or the part of it that a player asks for, to whoever may open it. The browser is told what it is and
 * not to guess; whatever the file says, it is never a page of ours.
 */
export async function sendRecording(
  services: Services,
  request: FastifyRequest,
  reply: FastifyReply,
  what: Pick<OpenRecordingInput, 'recordingId' | 'part'>,
): Promise<FastifyReply> {
  const held = request.headers['if-range'];
  let beyond = false;
  const opened = unwrap(
    await openRecording(services, actorOf(request), {
      ...what,
      // A part of what has changed would not fit to what is held; ours never change, another's name asks for all.
      range: (bytes, sha256) => {
        const asked = readRange(
          held === undefined || held === `"${sha256}"` ? request.headers.range : '',
          bytes,
        );
        beyond = asked === 'unsatisfiable';
        return typeof asked === 'string' ? null : asked;
      },
    }),
  );
  reply
    .header('cache-control', 'private, no-cache')
    .header('etag', `"${opened.sha256}"`)
    .header('accept-ranges', 'bytes')
    .header('x-content-type-options', 'nosniff')
    .header('content-security-policy', "default-src 'none'; sandbox")
    .header('content-disposition', `inline; filename="${opened.fileName}"`);
  if (beyond) {
    opened.stream.destroy();
    return reply.code(416).header('content-range', `bytes */${opened.bytes}`).send();
  }
  reply.type(opened.mediaType);
  if (opened.range === null) return reply.header('content-length', opened.bytes).send(opened.stream);
  const { first, last } = opened.range;
  return reply
    .code(206)
    .header('content-range', `bytes ${first}-${last}/${opened.bytes}`)
    .header('content-length', last - first + 1)
    .send(opened.stream);
}
