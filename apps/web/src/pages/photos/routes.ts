import type { AcceptanceId, PhotoId } from '@grainwright/domain';
import { openPhoto, openSignature, type PhotoKind } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { unwrap } from '../../plugins/problem-error.ts';
import { heldDigest, sendPhoto } from '../../plugins/send-photo.ts';
import { actorOf } from '../../plugins/session.ts';
import { pathId } from '../path-id.ts';
import type { PageOptions } from '../person.ts';

/** The pictures on pages, for staff and contacts alike; who may see which is the operation's to say. */
export const photoPages: FastifyPluginAsync<PageOptions> = async (app, { services }) => {
  for (const kind of ['original', 'uncovered', 'view', 'thumb'] as const satisfies PhotoKind[])
    app.get<{ Params: { id: string } }>(`/photos/:id/${kind}`, async (request, reply) => {
      const opened = await openPhoto(services, actorOf(request), {
        photoId: pathId<PhotoId>(request.params.id),
        kind,
        heldDigest: heldDigest(request),
      });
      if (!opened.ok && opened.problem.code === 'unavailable') reply.header('retry-after', '2');
      return sendPhoto(reply, unwrap(opened));
    });

  app.get<{ Params: { id: string } }>('/signatures/:id', async (request, reply) => {
    const asked = { acceptanceId: pathId<AcceptanceId>(request.params.id), heldDigest: heldDigest(request) };
    return sendPhoto(reply, unwrap(await openSignature(services, actorOf(request), asked)));
  });
};
