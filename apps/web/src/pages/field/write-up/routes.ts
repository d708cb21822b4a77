import {
  type AccountId,
  isUuid,
  type Problem,
  type SiteId,
  toId,
  type VisitId,
  type WorkOrderId,
} from '@grainwright/domain';
import { listPlaces, type PlaceView, writeUp } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { FormValues, formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { choosePlacePage, placeKey, writeUpPage } from './view.ts';
import { typedWriteUp } from './write-up-form.ts';

/** Writing up a vehicle, in two screens: where, and which vehicle. */
export const writeUpPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get<{ Querystring: { place?: string | string[] } }>('/field/write-up', async (request, reply) => {
    const key = [request.query.place ?? ''].flat().at(-1) ?? '';
    const places = unwrap(await listPlaces(options.services, actorOf(request)));
    const place = places.find((each) => placeKey(each) === key);
    if (place === undefined) return choosePlace(request, reply, options, places, key === '' ? null : notOpen);
    return showForm(request, reply, options, { place, form: new FormValues({}), problem: null });
  });

  app.post('/field/write-up', async (request, reply) => {
    const { services } = options;
    const form = formOf(request);
    const places = unwrap(await listPlaces(services, actorOf(request)));
    const place = places.find((each) => placeKey(each) === form.text('place'));
    if (place === undefined) return choosePlace(request, reply, options, places, notOpen);
    const written = await writeUp(services, actorOf(request), {
      id: idIn<WorkOrderId>(form, 'id', services.newId),
      visitId: idIn<VisitId>(form, 'visit_id', services.newId),
      accountId: toId<AccountId>(place.accountId),
      siteId: toId<SiteId>(place.siteId),
      ...typedWriteUp(form),
    });
    if (written.ok) return reply.redirect(`/field/work-orders/${written.value.workOrderId}`, 303);
    return showForm(request, reply, options, { place, form, problem: written.problem });
  });
};

const notOpen: Problem = {
  code: 'not_found',
  detail: 'This account or place is not open to new work. Choose another one.',
  field: 'place',
};

async function choosePlace(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  places: readonly PlaceView[],
  problem: Problem | null,
): Promise<FastifyReply> {
  const frame = await frameOf(request, reply, options);
  return sendPage(reply, choosePlacePage({ frame, places, problem }), problem?.code);
}

async function showForm(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  shown: { readonly place: PlaceView; readonly form: FormValues; readonly problem: Problem | null },
): Promise<FastifyReply> {
  const { place, form, problem } = shown;
  const { newId } = options.services;
  const frame = await frameOf(request, reply, options);
  // An id that is taken by something else would be refused again and again: the form goes on under a new one.
  const kept = problem?.code === 'id_reused' ? new FormValues({}) : form;
  const ids = { id: idIn<WorkOrderId>(kept, 'id', newId), visitId: idIn<VisitId>(kept, 'visit_id', newId) };
  const page = writeUpPage({ frame, place, ids, typed: typedWriteUp(form), problem });
  return sendPage(reply, page, problem?.code);
}

/** The id that the form was rendered with; a form that lost it gets a new one. */
function idIn<T extends WorkOrderId | VisitId>(form: FormValues, name: string, newId: () => string): T {
  const text = form.text(name).toLowerCase();
  return toId<T>(isUuid(text) ? text : newId());
}
