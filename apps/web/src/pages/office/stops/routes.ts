import {
  type AccountId,
  allows,
  isUuid,
  type PersonId,
  type Problem,
  type Result,
  refuse,
  type SiteId,
  toId,
  type VisitId,
} from '@grainwright/domain';
import { dropStop, listDay, listPlaces, listStaff, orderStops, planStop } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { type FormValues, formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { placeKey } from '../../field/write-up/place-view.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { visitIdsIn } from '../../stops/visit-ids.ts';
import { officeStopsPage, type PlanForm } from './view.ts';

/** What the office plans a day by. */
export const officeStopPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<{ Querystring: { day?: string | string[] } }>('/office/stops', async (request, reply) => {
    const day = [request.query.day ?? ''].flat().at(-1);
    return show(request, reply, options, { day, problem: null });
  });

  app.post('/office/stops', async (request, reply) => {
    const form = formOf(request);
    const planned = await plan(request, options, form);
    return answer(request, reply, options, planned);
  });

  app.post('/office/stops/order', async (request, reply) => {
    const form = formOf(request);
    const technicianId = idIn<PersonId>(form, 'technician_id');
    const input = { technicianId, day: form.text('day'), visitIds: visitIdsIn(form) };
    return answer(request, reply, options, await orderStops(services, actorOf(request), input));
  });

  app.post<{ Params: { visitId: string } }>('/office/stops/:visitId/drop', async (request, reply) => {
    const visitId = pathId<VisitId>(request.params.visitId);
    return answer(request, reply, options, await dropStop(services, actorOf(request), visitId));
  });
};

function plan(request: FastifyRequest, { services }: PageOptions, form: FormValues) {
  const [accountId = '', siteId = ''] = form.text('place').toLowerCase().split('.');
  if (!isUuid(accountId) || !isUuid(siteId))
    return refuse('invalid_input', 'Choose the account and its place.', 'site_id');
  const technicianId = idIn<PersonId>(form, 'technician_id');
  if (technicianId === undefined) return refuse('invalid_input', 'Choose who goes there.', 'technician_id');
  return planStop(services, actorOf(request), {
    visitId: idIn<VisitId>(form, 'id') ?? toId<VisitId>(services.newId()),
    technicianId,
    accountId: toId<AccountId>(accountId),
    siteId: toId<SiteId>(siteId),
    day: form.text('day'),
    afterHours: form.checked('after_hours'),
    rush: false,
  });
}

/** Back to the day; with the problem and what was typed where it was refused. */
async function answer(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  done: Result<unknown>,
): Promise<FastifyReply> {
  const day = formOf(request).text('day');
  if (done.ok) return reply.redirect(`/office/stops?${new URLSearchParams({ day })}`, 303);
  const shown = done.problem.code === 'invalid_date' ? undefined : day;
  return show(request, reply, options, { day: shown, problem: done.problem });
}

async function show(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  { day, problem }: { readonly day: string | undefined; readonly problem: Problem | null },
): Promise<FastifyReply> {
  const { services } = options;
  const view = unwrap(await listDay(services, actorOf(request), { day }));
  const frame = await frameOf(request, reply, options);
  const page = {
    frame,
    view,
    problem,
    plan: await planForm(request, options, allows(frame.me.role, 'write_up')),
  };
  return sendPage(reply, officeStopsPage(page), problem?.code);
}

async function planForm(
  request: FastifyRequest,
  { services }: PageOptions,
  mayPlan: boolean,
): Promise<PlanForm> {
  const form = formOf(request);
  const staff = mayPlan ? unwrap(await listStaff(services, actorOf(request))) : [];
  const places = mayPlan ? unwrap(await listPlaces(services, actorOf(request))) : [];
  return {
    visitId: services.newId(),
    technicians: staff
      .filter(({ role, endedOn }) => endedOn === null && allows(role, 'start_work'))
      .map(({ personId, name }) => ({ value: personId, label: name })),
    places: places.map((place) => ({
      value: placeKey(place),
      label: `${place.accountName}, ${place.siteName}`,
    })),
    typed: {
      technicianId: form.text('technician_id'),
      place: form.text('place'),
      afterHours: form.checked('after_hours'),
    },
  };
}

function idIn<T extends PersonId | VisitId>(form: FormValues, name: string): T | undefined {
  const text = form.text(name).toLowerCase();
  return isUuid(text) ? toId<T>(text) : undefined;
}
