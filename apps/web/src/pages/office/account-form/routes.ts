import {
  type AccountGroupId,
  type AccountId,
  isUuid,
  type Problem,
  type Result,
  toId,
} from '@grainwright/domain';
import {
  type Actor,
  addAccount,
  addAccountGroup,
  changeAccount,
  listAccountGroups,
  readAccount,
  readPriceBook,
  type Services,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { type FormValues, formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { requirePermission } from '../../permitted.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { accountChoices } from '../account-choices.ts';
import {
  type AccountFormValues,
  accountEndOf,
  accountTermsOf,
  emptyAccountForm,
  storedAccountForm,
  typedAccountForm,
} from './form.ts';
import { asSeen, changedMeanwhile, readSeen, typedOver } from './seen.ts';
import { accountFormView } from './view.ts';

export const officeAccountFormPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get('/office/accounts/new', async (request, reply) =>
    sendNewForm(request, reply, options, {
      id: services.newId(),
      newGroupId: services.newId(),
      values: emptyAccountForm,
      problem: null,
    }),
  );

  app.post('/office/accounts/new', async (request, reply) => {
    const form = formOf(request);
    const typed = { id: uuidIn(form, 'id', services), ...typedIn(form, services) };
    const added = await keepAccount(services, actorOf(request), typed, (values) => {
      const terms = accountTermsOf(values);
      const id = toId<AccountId>(typed.id);
      return terms.ok ? addAccount(services, actorOf(request), { id, ...terms.value }) : terms;
    });
    if (!added.ok) return sendNewForm(request, reply, options, { ...typed, problem: added.problem });
    return reply.redirect(`/office/accounts/${added.value.id}`, 303);
  });

  app.get<{ Params: { id: string } }>('/office/accounts/:id/edit', async (request, reply) => {
    const id = pathId<AccountId>(request.params.id);
    const values = storedAccountForm(unwrap(await readAccount(services, actorOf(request), id)));
    const typed = { id, newGroupId: services.newId(), values, problem: null };
    return sendEditForm(request, reply, options, { ...typed, seen: values });
  });

  app.post<{ Params: { id: string } }>('/office/accounts/:id/edit', async (request, reply) => {
    const id = pathId<AccountId>(request.params.id);
    const form = formOf(request);
    const typed = typedIn(form, services);
    const seen = readSeen(form.text('seen'));
    const changed = await keepAccount(services, actorOf(request), typed, (values) => {
      const terms = accountTermsOf(values);
      const known = seen === null ? undefined : asSeen(seen);
      const change = { ...accountEndOf(values), seen: known };
      return terms.ok ? changeAccount(services, actorOf(request), { id, ...terms.value, ...change }) : terms;
    });
    if (changed.ok) return reply.redirect(`/office/accounts/${id}`, 303);
    return sendEditForm(request, reply, options, { id, ...typed, problem: changed.problem, seen });
  });
};

interface Typed {
  readonly newGroupId: string;
  readonly values: AccountFormValues;
}

function typedIn(form: FormValues, services: Services): Typed {
  return { newGroupId: uuidIn(form, 'new_group_id', services), values: typedAccountForm(form) };
}

function uuidIn(form: FormValues, name: string, services: Services): string {
  return isUuid(form.text(name)) ? form.text(name) : services.newId();
}

/** Makes the new group first, if one is named; sent again it is the same group. */
async function keepAccount(
  services: Services,
  actor: Actor,
  { values, newGroupId }: Typed,
  keep: (values: AccountFormValues) => Result<{ id: AccountId }> | Promise<Result<{ id: AccountId }>>,
): Promise<Result<{ id: AccountId }>> {
  if (values.new_group === '') return keep(values);
  const group = { id: toId<AccountGroupId>(newGroupId), name: values.new_group };
  const added = await addAccountGroup(services, actor, group);
  if (added.ok) return keep({ ...values, group_id: newGroupId });
  const { field } = added.problem;
  return field === 'name' ? { ok: false, problem: { ...added.problem, field: 'new_group' } } : added;
}

async function sendNewForm(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  typed: Typed & { readonly id: string; readonly problem: Problem | null },
): Promise<FastifyReply> {
  const { id: newId, newGroupId, values, problem } = typed;
  const frame = await frameOf(request, reply, options);
  requirePermission(frame, 'change_accounts');
  const actor = actorOf(request);
  const page = accountFormView({
    frame,
    ...(await choicesFor(options.services, actor)),
    currency: frame.me.business.currency,
    accounts: [],
    accountName: null,
    back: '/office/accounts',
    action: '/office/accounts/new',
    newId,
    newGroupId,
    values,
    seen: null,
    meanwhile: [],
    problem,
  });
  return sendPage(reply, page, problem?.code);
}

interface EditTyped extends Typed {
  readonly id: AccountId;
  readonly problem: Problem | null;
  /** What the form said the account was when it was shown. */
  readonly seen: AccountFormValues | null;
}

async function sendEditForm(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  typed: EditTyped,
): Promise<FastifyReply> {
  const { id, newGroupId, problem } = typed;
  const actor = actorOf(request);
  const frame = await frameOf(request, reply, options);
  requirePermission(frame, 'change_accounts');
  const view = unwrap(await readAccount(options.services, actor, id));
  const stored = storedAccountForm(view);
  const choices = await choicesFor(options.services, actor);
  const accounts = (await accountChoices(options.services, actor)).filter(({ value }) => value !== id);
  const names = new Map([...choices.groups, ...accounts].map(({ value, label }) => [value, label]));
  const seen = typed.seen ?? stored;
  const stale = problem?.code === 'shown_changed';
  const page = accountFormView({
    frame,
    ...choices,
    currency: view.currency,
    accounts,
    accountName: view.account.name,
    back: `/office/accounts/${id}`,
    action: `/office/accounts/${id}/edit`,
    newId: null,
    newGroupId,
    values: stale ? typedOver(typed.values, seen, stored) : typed.values,
    seen: stale ? stored : seen,
    meanwhile: stale ? changedMeanwhile(seen, stored, names) : [],
    problem,
  });
  return sendPage(reply, page, problem?.code);
}

async function choicesFor(services: Services, actor: Actor) {
  const groups = unwrap(await listAccountGroups(services, actor));
  return {
    book: unwrap(await readPriceBook(services, actor)),
    groups: groups.map(({ id, name }) => ({ value: id, label: name })),
  };
}
