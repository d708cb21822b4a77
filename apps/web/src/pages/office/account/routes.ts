import type { AccountId, DelegationId, PersonId } from '@grainwright/domain';
import {
  endContact,
  endDelegation,
  listHandedIn,
  readAccount,
  readHoldsOver,
  resumeContact,
} from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { readGlance } from './glance.ts';
import { accountView } from './view.ts';

export const officeAccountPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get<{ Params: { id: string } }>('/office/accounts/:id', async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    const actor = actorOf(request);
    const id = pathId<AccountId>(request.params.id);
    const view = unwrap(await readAccount(options.services, actor, id));
    const handedIn = unwrap(await listHandedIn(options.services, actor, id));
    const glance = await readGlance(options.services, actor, frame, id);
    const holds = unwrap(await readHoldsOver(options.services, actor, { workOrderId: null, accountId: id }));
    return sendPage(reply, accountView({ frame, view, handedIn, glance, holds }));
  });

  app.post<ContactPath>('/office/accounts/:id/contacts/:personId/end', async (request, reply) => {
    const contact = contactOf(request.params);
    unwrap(await endContact(options.services, actorOf(request), contact));
    return reply.redirect(`/office/accounts/${contact.accountId}`, 303);
  });

  app.post<ContactPath>('/office/accounts/:id/contacts/:personId/resume', async (request, reply) => {
    const contact = contactOf(request.params);
    unwrap(await resumeContact(options.services, actorOf(request), contact));
    return reply.redirect(`/office/accounts/${contact.accountId}`, 303);
  });

  app.post<{ Params: { id: string; delegationId: string } }>(
    '/office/accounts/:id/delegations/:delegationId/end',
    async (request, reply) => {
      const accountId = pathId<AccountId>(request.params.id);
      const delegation = pathId<DelegationId>(request.params.delegationId);
      unwrap(await endDelegation(options.services, actorOf(request), delegation, accountId));
      return reply.redirect(`/office/accounts/${accountId}#agreements`, 303);
    },
  );
};

interface ContactPath {
  readonly Params: { readonly id: string; readonly personId: string };
}

function contactOf({ id, personId }: ContactPath['Params']) {
  return { accountId: pathId<AccountId>(id), personId: pathId<PersonId>(personId) };
}
