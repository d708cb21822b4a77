import { type DecisionId, formatMinor } from '@grainwright/domain';
import { listVersions, readDecisionRecord, type Services } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { workOrderParams } from '../decisions/schemas.ts';
import { idOf, problemAnswer } from '../schemas.ts';
import { answerDecision } from '../work-orders/consent-answers.ts';
import { decisionRecordAnswer, versionsAnswer } from './schemas.ts';

const tags = ['Approval'];

/** What was answered, to be shown years later, and every version that was sent. */
export const decisionRecordRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (
  app,
  { services },
) => {
  app.get(
    '/decisions/:id',
    {
      schema: {
        summary: 'An answer with the version that was answered and what was seen when it was given',
        tags,
        params: z.object({ id: idOf<DecisionId>('decision') }),
        response: { 200: decisionRecordAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const record = unwrap(await readDecisionRecord(services, actorOf(request), request.params.id));
      const { workOrderId, currency, decision, version, linkId, seen, recordedBy, mismatches } = record;
      const { number, content, digest } = version;
      return {
        work_order_id: workOrderId,
        currency,
        decision: answerDecision(decision, currency),
        version: { number, content, digest },
        link_id: linkId,
        seen: seen && { content: seen.content, digest: seen.digest },
        recorded_by: recordedBy,
        mismatches: [...mismatches],
      };
    },
  );
  app.get(
    '/work-orders/:id/versions',
    {
      schema: {
        summary: 'Every version of an estimate that was sent, with what became of it',
        tags,
        params: workOrderParams,
        response: { 200: versionsAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const versions = unwrap(await listVersions(services, actorOf(request), request.params.id));
      return {
        versions: versions.map((version) => ({
          id: version.id,
          number: version.number,
          sent_at: version.sentAt,
          sent_by: version.sentBy,
          currency: version.currency,
          total: formatMinor(version.totalMinor, version.currency),
          stands: version.stands,
          decision_id: version.decisionId,
          decided_at: version.decidedAt,
          decided_by: version.decidedBy,
        })),
      };
    },
  );
};
