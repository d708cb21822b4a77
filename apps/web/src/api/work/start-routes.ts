import { listCautions, releaseSeam, type Services, startWork } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { answerCertificateWarning } from '../certificate-warning.ts';
import { problemAnswer } from '../schemas.ts';
import { workOrderParams } from '../work-orders/schemas.ts';
import { cautionsAnswer, cautionsQuery, releaseBody, startBody, stateAnswer } from './schemas.ts';

const tags = ['Work'];

export const startRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/work-orders/:id/cautions',
    {
      schema: {
        summary: 'The cautions to read before work starts',
        tags,
        params: workOrderParams,
        querystring: cautionsQuery,
        response: { 200: cautionsAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const circumstances = request.query.circumstances.split(',').filter((code) => code !== '');
      const view = unwrap(
        await listCautions(services, actorOf(request), { workOrderId: request.params.id, circumstances }),
      );
      return {
        lines: [...view.lines],
        cautions: view.cautions.map(({ code, sentence }) => ({ code, sentence })),
        certificate_warning: answerCertificateWarning(view.certificateWarning),
        missing_photos: [...view.missingPhotos],
        blocked_seam: view.blockedSeam && { line_id: view.blockedSeam.id, words: view.blockedSeam.label },
      };
    },
  );
  app.post(
    '/work-orders/:id/start',
    {
      schema: {
        summary: 'Start work',
        tags,
        params: workOrderParams,
        body: startBody,
        response: { 200: stateAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { id, acknowledge, circumstances, airbag_lamp: airbagLamp } = request.body;
      const workOrderId = request.params.id;
      const input = { acknowledgmentId: id, workOrderId, acknowledge, circumstances, airbagLamp };
      return unwrap(await startWork(services, actorOf(request), input));
    },
  );
  app.post(
    '/work-orders/:id/seam-release',
    {
      schema: {
        summary: 'Release one line’s seam that may cover a side airbag (owner of the business)',
        tags,
        params: workOrderParams,
        body: releaseBody,
        response: { 200: stateAnswer, ...problemAnswer },
      },
    },
    async (request) =>
      unwrap(
        await releaseSeam(services, actorOf(request), {
          workOrderId: request.params.id,
          lineId: request.body.line_id,
          reason: request.body.reason,
        }),
      ),
  );
};
