import type { OpenedPhoto } from '@grainwright/operations';
import type { FastifyReply, FastifyRequest } from 'fastify';

/** The digest that the browser says it holds already. */
export function heldDigest(request: FastifyRequest): string | undefined {
  return /"([0-9a-f]{64})"/.exec(request.headers['if-none-match'] ?? '')?.[1];
}

/**
 * Sends a photo to whoever was allowed to open it. It may be kept by their browser alone and asked for again each
 * time, since their access may have ended.
 */
export function sendPhoto(reply: FastifyReply, photo: OpenedPhoto): FastifyReply {
  reply
    .header('cache-control', 'private, no-cache')
    .header('etag', `"${photo.sha256}"`)
    .header('x-content-type-options', 'nosniff')
    .header('content-disposition', `inline; filename="${photo.fileName}"`);
  if (photo.stream === null) return reply.code(304).send();
  return reply.type(photo.mediaType).header('content-length', photo.bytes).send(photo.stream);
}
