import type { AcceptanceId, PhotoId, Result } from '@grainwright/domain';
import {
  type OpenedLink,
  type OpenedPhoto,
  openAskedPhoto,
  openCopyPhoto,
  openCopySignature,
  openOwnersPhoto,
  openOwnersSignature,
  type Services,
  showCopy,
} from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import {
  keepLinkSecret,
  type LinkParams,
  linkOf,
  linkPath,
  linkRoute,
  wrongPurpose,
} from '../../plugins/link.ts';
import { unwrap } from '../../plugins/problem-error.ts';
import { heldDigest, sendPhoto } from '../../plugins/send-photo.ts';
import { pathId } from '../path-id.ts';
import type { PageOptions } from '../person.ts';
import { sendPage } from '../send-page.ts';
import { ownersAnswerPages, showOwnersPage } from './acceptance/routes.ts';
import { approvalPages, showAsked } from './approval/routes.ts';
import { copyPage } from './copy/view.ts';
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
    switch (link.purpose) {
      case 'acceptance':
        return showOwnersPage(request, reply, options, link);
      case 'acceptance_copy': {
        const page = unwrap(await showCopy(services, link));
        return sendPage(reply, copyPage({ page, path: linkPath(request), assets: options.assets.urls }));
      }
      case 'approval':
        return showAsked(request, reply, options, link);
    }
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
        const opened = await openOf(services, link, asked);
        if (!opened.ok && opened.problem.code === 'unavailable') reply.header('retry-after', '2');
        return sendPhoto(reply, unwrap(opened));
      },
    );

  app.get<{ Params: LinkParams & { id: string } }>(
    '/link/:token/signatures/:id',
    linkRoute,
    async (request, reply) => {
      const link = await linkOf(services, request);
      const asked = {
        acceptanceId: pathId<AcceptanceId>(request.params.id),
        heldDigest: heldDigest(request),
      };
      if (link.purpose === 'approval') throw wrongPurpose();
      const opened =
        link.purpose === 'acceptance'
          ? await openOwnersSignature(services, link, asked)
          : await openCopySignature(services, link, asked);
      return sendPhoto(reply, unwrap(opened));
    },
  );

  await app.register(approvalPages, options);
  await app.register(linkNumbersPages, options);
  await app.register(ownersAnswerPages, options);
};

/** A picture as far as the link opens it. */
function openOf(
  services: Services,
  link: OpenedLink,
  asked: {
    readonly photoId: PhotoId;
    readonly kind: 'view' | 'thumb';
    readonly heldDigest?: string | undefined;
  },
): Promise<Result<OpenedPhoto>> {
  switch (link.purpose) {
    case 'acceptance':
      return openOwnersPhoto(services, link, asked);
    case 'acceptance_copy':
      return openCopyPhoto(services, link, asked);
    case 'approval':
      return openAskedPhoto(services, link, asked);
  }
}
