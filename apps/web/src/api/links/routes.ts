import { askOwner, listLinks, revokeLink, type Services } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { workOrderParams } from '../work-orders/schemas.ts';
import { byLinkRoutes } from './by-link-routes.ts';
import { linkParams, linksAnswer, ownerLinkAnswer, ownerLinkBody } from './schemas.ts';

const tags = ['Links'];

/** Links that were given about a work order, to contacts and vehicle owners, and what one opens. */
export const linkRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, options) => {
  const { services } = options;
  await app.register(byLinkRoutes, options);

  app.get(
    '/work-orders/:id/links',
    {
      schema: {
        summary: 'The links that were given about a work order, without their secrets',
        tags,
        params: workOrderParams,
        response: { 200: linksAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const links = unwrap(await listLinks(services, actorOf(request), request.params.id));
      return {
        links: links.map((link) => ({
          id: link.id,
          purpose: link.purpose,
          person_id: link.personId,
          work_order_id: link.workOrderId,
          made_at: link.madeAt,
          expires_at: link.expiresAt,
          revoked_at: link.revokedAt,
          opens: link.opens,
        })),
      };
    },
  );

  app.post(
    '/work-orders/:id/owner-links',
    {
      schema: {
        summary: 'Make a link by which the vehicle’s owner answers to finished work, and mail it',
        tags,
        params: workOrderParams,
        body: ownerLinkBody,
        response: { 201: ownerLinkAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id, owner_name: ownerName, phone, email } = request.body;
      const input = { linkId: id, workOrderId: request.params.id, ownerName, phone, email };
      const asked = unwrap(await askOwner(services, actorOf(request), input));
      const { linkId, address, message, lastDayWords } = asked;
      return reply.code(201).send({ id: linkId, address, message, last_day: lastDayWords });
    },
  );

  app.post(
    '/work-orders/:id/links/:link_id/take-back',
    {
      schema: {
        summary: 'Take a link back: it opens nothing any more',
        tags,
        params: linkParams,
        response: { 204: z.null(), ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: workOrderId, link_id: linkId } = request.params;
      unwrap(await revokeLink(services, actorOf(request), { workOrderId, linkId }));
      return reply.code(204).send(null);
    },
  );
};
