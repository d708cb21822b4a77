import { type Problem, type SigningKeyId, toId } from '@grainwright/domain';
import { readSeals, rotateSealKey } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { queryId } from '../../query-id.ts';
import { type DaysQuery, readDays } from '../../seals/read-days.ts';
import { sendPage } from '../../send-page.ts';
import { sealsPage } from './view.ts';

/** How the seals of the business stand, and its keys: for its owner. */
export const officeSealPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<{ Querystring: DaysQuery }>('/office/seals', async (request, reply) =>
    show(request, reply, { query: request.query, problem: null }),
  );

  app.post('/office/seals/keys', async (request, reply) => {
    const id = queryId<SigningKeyId>(formOf(request).text('id')) ?? toId<SigningKeyId>(services.newId());
    const changed = await rotateSealKey(services, actorOf(request), id);
    if (changed.ok) return reply.redirect('/office/seals', 303);
    return show(request, reply, { query: {}, problem: changed.problem });
  });

  async function show(
    request: FastifyRequest,
    reply: FastifyReply,
    { query, problem }: { readonly query: DaysQuery; readonly problem: Problem | null },
  ): Promise<FastifyReply> {
    const frame = await frameOf(request, reply, options);
    const view = unwrap(await readSeals(services, actorOf(request)));
    const days = await readDays(services, actorOf(request), query);
    const page = sealsPage({ frame, view, days, newId: services.newId(), problem });
    return sendPage(reply, page, problem?.code);
  }
};
