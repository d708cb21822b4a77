import { type AccountId, isUuid, type OpeningId, type Problem, toId } from '@grainwright/domain';
import { bringForward, listOpenings, readPaymentEntry } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { type FormValues, formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { requirePermission } from '../../permitted.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import type { Typed } from '../payments/entry-form.ts';
import { itemFields, itemsOfForm, openingBalanceView } from './view.ts';

type OpeningRequest = FastifyRequest<{ Params: { id: string } }>;

export const openingBalancePages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<{ Params: { id: string } }>('/office/accounts/:id/opening-balance', async (request, reply) =>
    sendForm(request, reply, options, null),
  );

  app.post<{ Params: { id: string } }>('/office/accounts/:id/opening-balance', async (request, reply) => {
    const form = formOf(request);
    const accountId = pathId<AccountId>(request.params.id);
    const openingId = isUuid(form.text('opening_id')) ? form.text('opening_id') : services.newId();
    const places = writtenPlaces(form);
    const brought = await bringForward(services, actorOf(request), {
      openingId: toId<OpeningId>(openingId),
      accountId,
      broughtOn: form.text('brought_on'),
      items: places.map((place) => ({
        number: form.text(`items.${place}.number`),
        issuedOn: form.text(`items.${place}.issued_on`),
        dueOn: form.text(`items.${place}.due_on`),
        amount: form.text(`items.${place}.amount`),
      })),
      credit: form.text('credit'),
    });
    if (brought.ok) return reply.redirect(`/office/accounts/${accountId}/opening-balance`, 303);
    const typed: Typed = (name) => form.text(name);
    const problem = inForm(brought.problem, places);
    return sendForm(request, reply, options, { openingId, typed, problem });
  });
};

/** The documents of the form of which anything is written. */
function writtenPlaces(form: FormValues): readonly number[] {
  const places = Array.from({ length: itemsOfForm }, (_, place) => place);
  return places.filter((place) => itemFields.some((name) => form.text(`items.${place}.${name}`) !== ''));
}

/** The operation counts the documents it was given; those left empty in the form it does not know. */
function inForm(problem: Problem, places: readonly number[]): Problem {
  const found = /^items\.(\d+)\.(.+)$/.exec(problem.field ?? '');
  const place = places[Number(found?.[1])];
  return found === null || place === undefined
    ? problem
    : { ...problem, field: `items.${place}.${found[2]}` };
}

async function sendForm(
  request: OpeningRequest,
  reply: FastifyReply,
  options: PageOptions,
  sent: { readonly openingId: string; readonly typed: Typed; readonly problem: Problem } | null,
): Promise<FastifyReply> {
  const { services } = options;
  const actor = actorOf(request);
  const accountId = pathId<AccountId>(request.params.id);
  const frame = await frameOf(request, reply, options);
  requirePermission(frame, 'record_payment');
  const { account } = unwrap(await readPaymentEntry(services, actor, { accountId, past: null }));
  const page = openingBalanceView({
    frame,
    account,
    openings: unwrap(await listOpenings(services, actor, accountId)),
    openingId: sent?.openingId ?? services.newId(),
    typed: sent?.typed ?? (() => ''),
    problem: sent?.problem ?? null,
  });
  return sendPage(reply, page, sent?.problem.code);
}
