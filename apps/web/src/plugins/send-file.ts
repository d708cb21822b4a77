import type { ExportedFile, OpenedFile } from '@grainwright/operations';
import type { FastifyReply } from 'fastify';

/** Sends a file to keep, under its name. It is one person's and never cached. */
export function sendFile(reply: FastifyReply, file: ExportedFile | OpenedFile): FastifyReply {
  return reply
    .header('cache-control', 'no-store')
    .header('x-content-type-options', 'nosniff')
    .header('content-disposition', `attachment; filename="${file.fileName}"`)
    .type(file.mediaType)
    .send('text' in file ? file.text : Buffer.from(file.body));
}
