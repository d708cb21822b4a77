import { instant } from '@grainwright/domain';
import { acceptWork, type Services, showAcceptance } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { workOrderParams } from '../work-orders/schemas.ts';
import { copyRoutes } from './copy-routes.ts';
import { acceptanceRecordRoutes } from './record-routes.ts';
import { acceptBody, acceptedAnswer, copyGivenJson, shownAnswer, shownJson } from './schemas.ts';
import { unsignedRoutes } from './unsigned-routes.ts';
import { visitAcceptanceRoutes } from './visit-routes.ts';

const tags = ['Acceptance'];

export const acceptanceRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, options) => {
  await app.register(signatureRoutes, options);
  await app.register(unsignedRoutes, options);
  await app.register(visitAcceptanceRoutes, options);
  await app.register(acceptanceRecordRoutes, options);
  await app.register(copyRoutes, options);
};

const signatureRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/work-orders/:id/acceptance',
    {
      schema: {
        summary: 'What is put before whoever accepts the work',
        tags,
        params: workOrderParams,
        response: { 200: shownAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { signer, shown, digest } = unwrap(
        await showAcceptance(services, actorOf(request), request.params.id),
      );
      return { signer, shown: shownJson(shown), digest };
    },
  );
  app.post(
    '/work-orders/:id/acceptance',
    {
      schema: {
        summary: 'Write down the answer of the vehicle’s owner or the account’s representative',
        tags,
        params: workOrderParams,
        body: acceptBody,
        response: { 201: acceptedAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { body } = request;
      const accepted = unwrap(
        await acceptWork(services, actorOf(request), {
          acceptanceId: body.id,
          workOrderId: request.params.id,
          shownDigest: body.shown_digest,
          outcome: body.outcome,
          remark: body.remark,
          signerName: body.signer_name,
          signerRole: body.signer_role,
          mark: body.signature,
          overrideReason: body.override_reason,
          device: request.headers['user-agent'] ?? '',
          signerEmail: body.signer_email,
          signerPhone: body.signer_phone,
          answeredAt: body.answered_at === null ? null : instant(body.answered_at),
          copy: body.copy,
        }),
      );
      return reply.code(201).send({
        id: accepted.acceptanceId,
        outcome: accepted.outcome,
        accepted_at: accepted.acceptedAt,
        digest: accepted.digest,
        state: accepted.state,
        copy: accepted.copy && copyGivenJson(accepted.copy),
      });
    },
  );
};
