import { instant } from '@grainwright/domain';
import { acceptVisit, type Services, showVisitAcceptance } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import {
  acceptedVisitAnswer,
  acceptVisitBody,
  copyGivenJson,
  shownJson,
  shownVisitAnswer,
  visitParams,
} from './schemas.ts';

const tags = ['Acceptance'];

/** One signature of the account’s representative for several finished vehicles of a visit. */
export const visitAcceptanceRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (
  app,
  { services },
) => {
  app.get(
    '/visits/:id/acceptance',
    {
      schema: {
        summary: 'What is put before whoever accepts the finished vehicles of a visit',
        tags,
        params: visitParams,
        response: { 200: shownVisitAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const visit = unwrap(await showVisitAcceptance(services, actorOf(request), request.params.id));
      return {
        vehicles: visit.vehicles.map(({ workOrder, shown, digest }) => ({
          work_order_id: workOrder.id,
          shown: shownJson(shown),
          digest,
        })),
      };
    },
  );
  app.post(
    '/visits/:id/acceptance',
    {
      schema: {
        summary: 'Accept several finished vehicles of a visit with one signature',
        tags,
        params: visitParams,
        body: acceptVisitBody,
        response: { 201: acceptedVisitAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { body } = request;
      const accepted = unwrap(
        await acceptVisit(services, actorOf(request), {
          id: body.id,
          visitId: request.params.id,
          workOrders: body.work_orders.map((each) => ({
            workOrderId: each.work_order_id,
            shownDigest: each.shown_digest,
          })),
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
        id: accepted.id,
        outcome: accepted.outcome,
        accepted_at: accepted.acceptedAt,
        digest: accepted.digest,
        work_orders: accepted.workOrders.map(({ workOrderId, acceptanceId, state }) => ({
          work_order_id: workOrderId,
          acceptance_id: acceptanceId,
          state,
        })),
        copy: accepted.copy && copyGivenJson(accepted.copy),
      });
    },
  );
};
