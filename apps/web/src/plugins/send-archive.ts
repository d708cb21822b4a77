import type { OpenedArchive } from '@grainwright/operations';
import type { FastifyReply } from 'fastify';

/** Sends an archive to keep as it is made. It is one person’s and never cached; one that breaks off is no whole file. */
export function sendArchive(reply: FastifyReply, archive: OpenedArchive): FastifyReply {
  return reply
    .header('cache-control', 'no-store')
    .header('x-content-type-options', 'nosniff')
    .header('content-disposition', `attachment; filename="${archive.fileName}"`)
    .type(archive.mediaType)
    .send(archive.stream);
}
