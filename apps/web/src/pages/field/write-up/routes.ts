import {
  type AccountId,
  isUuid,
  type Problem,
  parseDay,
  type SiteId,
  toId,
  type VisitId,
  type WorkOrderId,
} from '@grainwright/domain';
import {
  type KnownVehicleView,
  listPlaces,
  lookUpVehicle,
  type PlaceView,
  type VehicleLookUp,
  writeUp,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { contentSecurityOfScanning } from '../../../plugins/content-security.ts';
import { FormValues, formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { choosePlacePage, placeKey } from './place-view.ts';
import { writeUpPage } from './view.ts';
import { typedWriteUp } from './write-up-form.ts';

/**
 * Writing up a vehicle, in two screens: where, and which vehicle. An address that names a day is one more of a row:
 * place, day and the visit's surcharges are kept.
 */
export const writeUpPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const scanning = { helmet: { contentSecurityPolicy: contentSecurityOfScanning } };
  app.get<{ Querystring: Record<string, string | string[]> }>(
    '/field/write-up',
    scanning,
    async (request, reply) => {
      const form = new FormValues(request.query);
      const key = form.text('place');
      const places = unwrap(await listPlaces(options.services, actorOf(request)));
      const place = places.find((each) => placeKey(each) === key);
      if (place === undefined)
        return choosePlace(request, reply, options, places, key === '' ? null : notOpen);
      const inRow = form.checked('day');
      return showForm(request, reply, options, { ...nothingNoticed, place, form, inRow });
    },
  );

  app.post('/field/write-up', scanning, async (request, reply) => {
    const { services } = options;
    const form = formOf(request);
    const places = unwrap(await listPlaces(services, actorOf(request)));
    const place = places.find((each) => placeKey(each) === form.text('place'));
    if (place === undefined) return choosePlace(request, reply, options, places, notOpen);
    const typed = typedWriteUp(form);
    const shown = { ...nothingNoticed, place, form, inRow: form.checked('in_row') };
    const known = form.checked('vehicle_id') ? [] : await standsFor(request, options, place, form);
    if (known.length > 0) return showForm(request, reply, options, { ...shown, known });
    const written = await writeUp(services, actorOf(request), {
      id: idIn<WorkOrderId>(form, 'id', services.newId),
      visitId: idIn<VisitId>(form, 'visit_id', services.newId),
      accountId: toId<AccountId>(place.accountId),
      siteId: toId<SiteId>(place.siteId),
      ...typed,
    });
    if (written.ok) {
      const path = `/field/work-orders/${written.value.workOrderId}`;
      // What has to be looked at is said on the work order; else the first line comes at once.
      return reply.redirect(written.value.warnings.length > 0 ? path : `${path}/lines/new`, 303);
    }
    const { problem } = written;
    const earlier = problem.code === 'duplicate' ? (await lookUp(request, options, place, form)).earlier : [];
    return showForm(request, reply, options, { ...shown, earlier, problem });
  });
};

const notOpen: Problem = {
  code: 'not_found',
  detail: 'This account or place is not open to new work. Choose another one.',
  field: 'place',
};

/** Which vehicles of the account a number alone may stand for. */
async function standsFor(
  request: FastifyRequest,
  options: PageOptions,
  place: PlaceView,
  form: FormValues,
): Promise<readonly KnownVehicleView[]> {
  const { ownNumber, vin, lastEight } = typedWriteUp(form);
  if (ownNumber === '' || vin !== '' || lastEight !== '') return [];
  return (await lookUp(request, options, place, form)).known;
}

async function lookUp(
  request: FastifyRequest,
  { services }: PageOptions,
  { accountId }: PlaceView,
  form: FormValues,
): Promise<VehicleLookUp> {
  const { ownNumber, vin, lastEight, vehicleId, day } = typedWriteUp(form);
  const input = { accountId, ownNumber, vin: vin === '' ? lastEight : vin, vehicleId };
  const read = parseDay(day, 'day');
  return unwrap(
    await lookUpVehicle(services, actorOf(request), { ...input, day: read.ok ? read.value : '' }),
  );
}

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

const nothingNoticed = { known: [], earlier: [], problem: null };

interface Shown extends VehicleLookUp {
  readonly place: PlaceView;
  readonly form: FormValues;
  readonly inRow: boolean;
  readonly problem: Problem | null;
}

async function showForm(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  { place, form, inRow, known, earlier, problem }: Shown,
): Promise<FastifyReply> {
  const { newId } = options.services;
  const frame = await frameOf(request, reply, options);
  // An id that is taken by something else would be refused again and again: the form goes on under a new one.
  const kept = problem?.code === 'id_reused' ? new FormValues({}) : form;
  const ids = { id: idIn<WorkOrderId>(kept, 'id', newId), visitId: idIn<VisitId>(kept, 'visit_id', newId) };
  const typed = typedWriteUp(form);
  const day = parseDay(typed.day, 'day');
  const { name: technician, today } = frame.me;
  const beside = { typed, accountName: place.accountName, technician, day: day.ok ? day.value : today };
  const lately = earlier.filter((each) => each.maybeDuplicate && each.accountId === place.accountId);
  const noticed = lately.length === 0 ? null : { ...beside, earlier: lately };
  const page = writeUpPage({ frame, place, ids, typed, inRow, known, noticed, problem });
  return sendPage(reply, page, problem?.code);
}

/** The id that the form was rendered with; a form that lost it gets a new one. */
function idIn<T extends WorkOrderId | VisitId>(form: FormValues, name: string, newId: () => string): T {
  const text = form.text(name).toLowerCase();
  return toId<T>(isUuid(text) ? text : newId());
}
