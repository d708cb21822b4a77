import type { HandedInId, Problem } from '@grainwright/domain';
import { checkHandedIn, readHandedIn } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { requirePermission } from '../../permitted.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { handedInView } from './view.ts';

interface ById {
  Params: { id: string };
}

/** A certificate that an account handed in: taken, or not taken and why. */
export const handedInPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get<ById>('/office/handed-in/:id', async (request, reply) =>
    sendForm(request, reply, options, { reason: '', problem: null }),
  );

  app.post<ById>('/office/handed-in/:id', async (request, reply) => {
    const form = formOf(request);
    const reason = form.text('reason');
    const checked = await checkHandedIn(options.services, actorOf(request), {
      id: pathId<HandedInId>(request.params.id),
      answer: form.text('answer') === 'confirmed' ? 'confirmed' : 'not_taken',
      reason,
    });
    if (checked.ok) return reply.redirect(`/office/accounts/${checked.value.accountId}`, 303);
    return sendForm(request, reply, options, { reason, problem: checked.problem });
  });
};

async function sendForm(
  request: FastifyRequest<ById>,
  reply: FastifyReply,
  options: PageOptions,
  typed: { readonly reason: string; readonly problem: Problem | null },
): Promise<FastifyReply> {
  const frame = await frameOf(request, reply, options);
  requirePermission(frame, 'change_accounts');
  const id = pathId<HandedInId>(request.params.id);
  const view = unwrap(await readHandedIn(options.services, actorOf(request), id));
  return sendPage(reply, handedInView({ frame, view, ...typed }), typed.problem?.code);
}
