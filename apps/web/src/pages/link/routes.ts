import type { PhotoId } from '@grainwright/domain';
import { openAskedPhoto, openOwnersPhoto } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { keepLinkSecret, type LinkParams, linkOf, linkRoute } from '../../plugins/link.ts';
import { unwrap } from '../../plugins/problem-error.ts';
import { heldDigest, sendPhoto } from '../../plugins/send-photo.ts';
import { pathId } from '../path-id.ts';
import type { PageOptions } from '../person.ts';
import { ownersAnswerPages, showOwnersPage } from './acceptance/routes.ts';
import { approvalPages, showAsked } from './approval/routes.ts';
import { linkNumbersPages } from './numbers/routes.ts';

/**
 * What links open, without signing in: estimates to a contact, finished work to the vehicle's owner. The token in the
 * address says which. Looking changes nothing; only forms that are sent do.
 */
export const linkPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;
  app.addHook('onRequest', async (_request, reply) => keepLinkSecret(reply));

  app.get<{ Params: LinkParams }>('/link/:token', linkRoute, async (request, reply) => {
    const link = await linkOf(services, request);
    if (link.purpose === 'acceptance') return showOwnersPage(request, reply, options, link);
    return showAsked(request, reply, options, link);
  });

  for (const kind of ['view', 'thumb'] as const)
    app.get<{ Params: LinkParams & { id: string } }>(
      `/link/:token/photos/:id/${kind}`,
      linkRoute,
      async (request, reply) => {
        const link = await linkOf(services, request);
        const asked = {
          photoId: pathId<PhotoId>(request.params.id),
          kind,
          heldDigest: heldDigest(request),
        };
        const opened =
          link.purpose === 'acceptance'
            ? await openOwnersPhoto(services, link, asked)
            : await openAskedPhoto(services, link, asked);
        if (!opened.ok && opened.problem.code === 'unavailable') reply.header('retry-after', '2');
        return sendPhoto(reply, unwrap(opened));
      },
    );

  await app.register(approvalPages, options);
  await app.register(linkNumbersPages, options);
  await app.register(ownersAnswerPages, options);
};
