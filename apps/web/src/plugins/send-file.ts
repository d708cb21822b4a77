import type { ExportedFile } from '@grainwright/operations';
import type { FastifyReply } from 'fastify';

/** Sends a file to keep, under its name. It is one person's and never cached. */
export function sendFile(reply: FastifyReply, file: ExportedFile): FastifyReply {
  return reply
    .header('cache-control', 'no-store')
    .header('content-disposition', `attachment; filename="${file.fileName}"`)
    .type(file.mediaType)
    .send(file.text);
}
