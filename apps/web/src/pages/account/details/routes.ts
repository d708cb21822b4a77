import type { Problem } from '@grainwright/domain';
import { chooseReminders, readOwnAccount } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { ProblemError, unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { hoursIn } from '../../office/account-form/form.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { detailsView } from './view.ts';

/** The account itself: its people and their limits, its papers, its sites and terms. */
export const accountDetailsPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get('/account/details', (request, reply) => show(request, reply, options, null));

  app.post('/account/reminders', async (request, reply) => {
    const typed = formOf(request).text('remind_after_hours');
    const chosen = await chooseReminders(options.services, actorOf(request), {
      remindAfterHours: hoursIn(typed),
    });
    if (chosen.ok) return reply.redirect('/account/details#reminders', 303);
    return show(request, reply, options, { typed, problem: chosen.problem });
  });
};

async function show(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  refused: { readonly typed: string; readonly problem: Problem } | null,
): Promise<FastifyReply> {
  if (refused !== null && refused.problem.field === undefined) throw new ProblemError(refused.problem);
  const actor = actorOf(request);
  const view = unwrap(await readOwnAccount(options.services, actor));
  const frame = await frameOf(request, reply, options);
  return sendPage(
    reply,
    detailsView({ frame, view, personId: actor.personId, refused }),
    refused?.problem.code,
  );
}
