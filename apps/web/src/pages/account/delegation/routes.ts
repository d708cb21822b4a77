import { type DelegationId, isUuid, type PersonId, type Problem, toId } from '@grainwright/domain';
import { endDelegation, nameDelegate, readOwnAccount } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { type DelegationTyped, delegationView } from './view.ts';

/** An approver names somebody to answer while they are away, and takes that back. */
export const accountDelegationPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get('/account/delegations/new', async (request, reply) => {
    const typed = { id: services.newId(), toPersonId: '', validFrom: '', validTo: '', limit: '' };
    return sendForm(request, reply, options, typed, null);
  });

  app.post('/account/delegations/new', async (request, reply) => {
    const form = formOf(request);
    const sentId = form.text('id').toLowerCase();
    const typed = {
      id: isUuid(sentId) ? sentId : services.newId(),
      toPersonId: form.text('to_person_id').toLowerCase(),
      validFrom: form.text('valid_from'),
      validTo: form.text('valid_to'),
      limit: form.text('limit'),
    };
    if (!isUuid(typed.toPersonId)) return sendForm(request, reply, options, typed, nobody);
    const named = await nameDelegate(services, actorOf(request), {
      ...typed,
      id: toId<DelegationId>(typed.id),
      toPersonId: toId<PersonId>(typed.toPersonId),
      limit: typed.limit === '' ? null : typed.limit,
    });
    if (named.ok) return reply.redirect('/account/details#away', 303);
    return sendForm(request, reply, options, typed, named.problem);
  });

  app.post<{ Params: { id: string } }>('/account/delegations/:id/end', async (request, reply) => {
    unwrap(await endDelegation(services, actorOf(request), pathId<DelegationId>(request.params.id)));
    return reply.redirect('/account/details#away', 303);
  });
};

const nobody: Problem = {
  code: 'invalid_input',
  detail: 'Choose who answers for you.',
  field: 'to_person_id',
};

async function sendForm(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  typed: DelegationTyped,
  problem: Problem | null,
): Promise<FastifyReply> {
  const frame = await frameOf(request, reply, options);
  const actor = actorOf(request);
  const view = unwrap(await readOwnAccount(options.services, actor));
  const shown = { ...typed, validFrom: typed.validFrom || frame.me.today };
  const page = { frame, view, personId: actor.personId, typed: shown, problem };
  return sendPage(reply, delegationView(page), problem?.code);
}
