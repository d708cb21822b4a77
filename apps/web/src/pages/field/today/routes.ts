import type { Problem } from '@grainwright/domain';
import { listToday, orderStops } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { visitIdsIn } from '../../stops/visit-ids.ts';
import { todayPage } from './view.ts';

/** The start page of whoever works at vehicles, and the order of its stops. */
export const todayPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get<{ Querystring: { day?: string | string[]; left?: string } }>('/field', async (request, reply) => {
    const day = [request.query.day ?? ''].flat().at(-1);
    return show(request, reply, options, { day, allLeft: request.query.left === 'all', problem: null });
  });

  app.post('/field/stops/order', async (request, reply) => {
    const form = formOf(request);
    const day = form.text('day');
    const visitIds = visitIdsIn(form);
    const ordered = await orderStops(options.services, actorOf(request), { day, visitIds });
    if (ordered.ok) return reply.redirect(`/field?day=${ordered.value.day}`, 303);
    const shown = ordered.problem.code === 'invalid_date' ? undefined : day;
    return show(request, reply, options, { day: shown, allLeft: false, problem: ordered.problem });
  });
};

interface Asked {
  readonly day: string | undefined;
  /** All that is left from earlier days, instead of the first of it. */
  readonly allLeft: boolean;
  readonly problem: Problem | null;
}

async function show(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  { problem, ...asked }: Asked,
): Promise<FastifyReply> {
  const today = unwrap(await listToday(options.services, actorOf(request), asked));
  return sendPage(
    reply,
    todayPage({ frame: await frameOf(request, reply, options), today, problem }),
    problem?.code,
  );
}
