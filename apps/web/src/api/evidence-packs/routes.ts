import type { WorkOrderId } from '@grainwright/domain';
import { openEvidencePack, openEvidencePdf, type Services } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { sendArchive } from '../../plugins/send-archive.ts';
import { sendFile } from '../../plugins/send-file.ts';
import { actorOf } from '../../plugins/session.ts';
import { idOf, problemAnswer } from '../schemas.ts';

const params = z.object({ id: idOf<WorkOrderId>('work order') });

/** The evidence of a work order, to file and to check. */
export const evidencePackRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (
  app,
  { services },
) => {
  app.get(
    '/work-orders/:id/evidence.pdf',
    {
      schema: {
        summary: 'The evidence of a work order as PDF',
        tags: ['Evidence'],
        params,
        produces: ['application/pdf'],
        response: { 200: z.string().meta({ description: 'A PDF.' }), ...problemAnswer },
      },
    },
    async (request, reply) =>
      sendFile(reply, unwrap(await openEvidencePdf(services, actorOf(request), request.params.id))),
  );
  app.get(
    '/work-orders/:id/evidence.zip',
    {
      schema: {
        summary: 'The evidence pack of a work order: an archive that anybody can check',
        description:
          'With the originals for staff; for contacts with copies that say no place. It is made as it is sent.',
        tags: ['Evidence'],
        params,
        produces: ['application/zip'],
        response: { 200: z.string().meta({ description: 'A ZIP archive.' }), ...problemAnswer },
      },
    },
    async (request, reply) =>
      sendArchive(reply, unwrap(await openEvidencePack(services, actorOf(request), request.params.id))),
  );
};
