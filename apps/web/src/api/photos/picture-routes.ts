import { openPhoto, type PhotoKind, type Services } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { heldDigest, sendPhoto } from '../../plugins/send-photo.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { photoParams } from './schemas.ts';

export const pictureRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  for (const kind of ['original', 'uncovered', 'view', 'thumb'] as const satisfies PhotoKind[])
    app.get(
      `/photos/:id/${kind}`,
      {
        schema: {
          summary:
            kind === 'original' ? 'The photo as it came (staff only)' : `The photo’s upright copy: ${kind}`,
          description: 'While the copies are still being made: 503 with Retry-After.',
          tags: ['Photos'],
          params: photoParams,
          response: { 200: z.any().meta({ description: 'The image.' }), ...problemAnswer },
        },
      },
      async (request, reply) => {
        const opened = await openPhoto(services, actorOf(request), {
          photoId: request.params.id,
          kind,
          heldDigest: heldDigest(request),
        });
        if (!opened.ok && opened.problem.code === 'unavailable') reply.header('retry-after', '2');
        return sendPhoto(reply, unwrap(opened));
      },
    );
};
