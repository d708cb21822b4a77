import { type AccountId, isUuid, type Problem, toId } from '@grainwright/domain';
import { addAccount, changeAccount, readAccount, readPriceBook } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { requirePermission } from '../../permitted.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import {
  type AccountFormValues,
  accountTermsOf,
  emptyAccountForm,
  storedAccountForm,
  typedAccountForm,
} from './form.ts';
import { accountFormView } from './view.ts';

export const officeAccountFormPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get('/office/accounts/new', async (request, reply) =>
    sendNewForm(request, reply, options, { id: services.newId(), values: emptyAccountForm, problem: null }),
  );

  app.post('/office/accounts/new', async (request, reply) => {
    const form = formOf(request);
    const values = typedAccountForm(form);
    const id = isUuid(form.text('id')) ? form.text('id') : services.newId();
    const terms = accountTermsOf(values);
    const added = terms.ok
      ? await addAccount(services, actorOf(request), { id: toId<AccountId>(id), ...terms.value })
      : terms;
    if (!added.ok) return sendNewForm(request, reply, options, { id, values, problem: added.problem });
    return reply.redirect(`/office/accounts/${added.value.id}`, 303);
  });

  app.get<{ Params: { id: string } }>('/office/accounts/:id/edit', async (request, reply) => {
    const id = pathId<AccountId>(request.params.id);
    const stored = storedAccountForm(unwrap(await readAccount(services, actorOf(request), id)));
    return sendEditForm(request, reply, options, { id, values: stored, problem: null });
  });

  app.post<{ Params: { id: string } }>('/office/accounts/:id/edit', async (request, reply) => {
    const id = pathId<AccountId>(request.params.id);
    const values = typedAccountForm(formOf(request));
    const terms = accountTermsOf(values);
    const endedOn = values.ended_on === '' ? null : values.ended_on;
    const changed = terms.ok
      ? await changeAccount(services, actorOf(request), { id, ...terms.value, endedOn })
      : terms;
    if (!changed.ok) return sendEditForm(request, reply, options, { id, values, problem: changed.problem });
    return reply.redirect(`/office/accounts/${id}`, 303);
  });
};

interface Typed<Id> {
  readonly id: Id;
  readonly values: AccountFormValues;
  readonly problem: Problem | null;
}

async function sendNewForm(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  typed: Typed<string>,
): Promise<FastifyReply> {
  const { id: newId, values, problem } = typed;
  const frame = await frameOf(request, reply, options);
  requirePermission(frame, 'change_accounts');
  const page = accountFormView({
    frame,
    book: unwrap(await readPriceBook(options.services, actorOf(request))),
    accountName: null,
    back: '/office/accounts',
    action: '/office/accounts/new',
    newId,
    values,
    problem,
  });
  return sendPage(reply, page, problem?.code);
}

async function sendEditForm(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  typed: Typed<AccountId>,
): Promise<FastifyReply> {
  const { id, values, problem } = typed;
  const actor = actorOf(request);
  const frame = await frameOf(request, reply, options);
  requirePermission(frame, 'change_accounts');
  const page = accountFormView({
    frame,
    book: unwrap(await readPriceBook(options.services, actor)),
    accountName: unwrap(await readAccount(options.services, actor, id)).account.name,
    back: `/office/accounts/${id}`,
    action: `/office/accounts/${id}/edit`,
    newId: null,
    values,
    problem,
  });
  return sendPage(reply, page, problem?.code);
}
