import { type AccountId, isUuid, type PersonId, toId } from '@grainwright/domain';
import { orderApprovers } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import type { PageOptions } from '../../person.ts';

/** In which order an account’s approvers are asked. */
export const askOrderPages: FastifyPluginAsync<PageOptions> = async (app, { services }) => {
  app.post<{ Params: { id: string } }>('/office/accounts/:id/ask-order', async (request, reply) => {
    const accountId = pathId<AccountId>(request.params.id);
    const personIds = formOf(request)
      .text('person_ids')
      .split(',')
      .filter(isUuid)
      .map((id) => toId<PersonId>(id));
    unwrap(await orderApprovers(services, actorOf(request), { accountId, personIds }));
    return reply.redirect(`/office/accounts/${accountId}#contacts`, 303);
  });
};
