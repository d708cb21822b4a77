import { finishWork, reviewWork, type Services } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { workOrderParams } from '../work-orders/schemas.ts';
import { finishBody, reviewAnswer, stateAnswer } from './schemas.ts';

const tags = ['Work'];

export const finishRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/work-orders/:id/review',
    {
      schema: {
        summary: 'What stands between the work and its end; changes nothing',
        tags,
        params: workOrderParams,
        body: finishBody.pick({ work: true, airbag_lamp: true }),
        response: { 200: reviewAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { work, airbag_lamp: airbagLamp } = request.body;
      const input = { workOrderId: request.params.id, work: work.map(asWork), airbagLamp };
      const review = unwrap(await reviewWork(services, actorOf(request), input));
      return {
        missing_photos: [...review.missingPhotos],
        photo_warnings: review.photoWarnings.map(({ photoId, shows, sentences }) => ({
          photo_id: photoId,
          shows,
          sentences: [...sentences],
        })),
        contradictions: review.contradictions.map(({ code, lineId, sentence, weight }) => ({
          code,
          line_id: lineId,
          sentence,
          weight,
        })),
        hand_over: review.handOver.map(({ code, sentence }) => ({ code, sentence })),
      };
    },
  );
  app.post(
    '/work-orders/:id/finish',
    {
      schema: {
        summary: 'Finish work',
        tags,
        params: workOrderParams,
        body: finishBody,
        response: { 200: stateAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const overrides = request.body.overrides.map(({ code, line_id, reason }) => ({
        code,
        lineId: line_id,
        reason,
      }));
      const { technician_minutes, materials_cost: materialsCost, airbag_lamp: airbagLamp } = request.body;
      const seen = { technicianMinutes: String(technician_minutes), materialsCost, airbagLamp };
      const input = {
        workOrderId: request.params.id,
        work: request.body.work.map(asWork),
        overrides,
        photoReasons: request.body.photo_reasons.map(({ override_id, photo_id, reason }) => ({
          overrideId: override_id,
          photoId: photo_id,
          reason,
        })),
        ...seen,
      };
      return unwrap(await finishWork(services, actorOf(request), input));
    },
  );
};

function asWork<Line>({
  line_id,
  methods,
  layers,
}: {
  line_id: Line;
  methods: readonly string[];
  layers: string;
}) {
  return { lineId: line_id, methods, layers };
}
