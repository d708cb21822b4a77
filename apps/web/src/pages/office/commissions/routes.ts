import { type CommissionRateId, isUuid, type PersonId, type Problem, toId } from '@grainwright/domain';
import {
  endCommissionRate,
  exportCommissions,
  listStaff,
  readCommissionRates,
  readCommissions,
  setCommissionRate,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { ProblemError, unwrap } from '../../../plugins/problem-error.ts';
import { sendFile } from '../../../plugins/send-file.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { queryId } from '../../query-id.ts';
import { sendPage } from '../../send-page.ts';
import { askedDays } from '../report-days.ts';
import { commissionsPage, type RateForm } from './view.ts';

interface Asked {
  readonly from?: string;
  readonly to?: string;
  readonly technician?: string;
}

export const officeCommissionPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<{ Querystring: Asked }>('/office/commissions', async (request, reply) =>
    show(request, reply, request.query, null),
  );

  app.get<{ Querystring: Asked }>('/office/commissions.csv', async (request, reply) => {
    const { me } = await frameOf(request, reply, options);
    const days = askedDays(request.query, me.today);
    return sendFile(reply, unwrap(await exportCommissions(services, actorOf(request), days)));
  });

  app.post('/office/commissions/rates', async (request, reply) => {
    const form = rateTyped(request);
    const set = await setCommissionRate(services, actorOf(request), {
      id: toId<CommissionRateId>(form.id),
      personId: personOf(form),
      percent: form.percent,
      validFrom: form.valid_from,
      validTo: null,
    });
    if (set.ok) return reply.redirect('/office/commissions', 303);
    return show(request, reply, {}, { form, problem: set.problem });
  });

  app.post<{ Params: { id: string } }>('/office/commissions/rates/:id/end', async (request, reply) => {
    const id = pathId<CommissionRateId>(request.params.id);
    const validTo = formOf(request).text('valid_to');
    const ended = await endCommissionRate(services, actorOf(request), { id, validTo });
    if (ended.ok) return reply.redirect('/office/commissions', 303);
    if (ended.problem.field === undefined) return unwrap(ended);
    return show(request, reply, {}, { form: null, problem: ended.problem });
  });

  async function show(
    request: FastifyRequest,
    reply: FastifyReply,
    asked: Asked,
    refused: { readonly form: RateForm | null; readonly problem: Problem } | null,
  ): Promise<FastifyReply> {
    const frame = await frameOf(request, reply, options);
    const actor = actorOf(request);
    const days = askedDays(asked, frame.me.today);
    const read = await readCommissions(services, actor, days);
    if (!read.ok && read.problem.field === undefined) return unwrap(read);
    const problem = refused?.problem ?? (read.ok ? null : read.problem);
    const page = commissionsPage({
      frame,
      days,
      report: read.ok ? read.value : null,
      technician: queryId<PersonId>(asked.technician),
      rates: unwrap(await readCommissionRates(services, actor)),
      staff: unwrap(await listStaff(services, actor))
        .filter((each) => each.endedOn === null)
        .map((each) => ({ value: each.personId, label: each.name })),
      form: refused?.form ?? { id: services.newId(), person_id: '', percent: '', valid_from: frame.me.today },
      problem,
    });
    return sendPage(reply, page, problem?.code);
  }
};

function rateTyped(request: FastifyRequest): RateForm {
  const form = formOf(request);
  const id = form.text('id').toLowerCase();
  if (!isUuid(id))
    throw new ProblemError({ code: 'invalid_input', detail: 'This form is not whole. Reload the page.' });
  return {
    id,
    person_id: form.text('person_id').toLowerCase(),
    percent: form.text('percent'),
    valid_from: form.text('valid_from'),
  };
}

function personOf({ person_id }: RateForm): PersonId {
  if (isUuid(person_id)) return toId<PersonId>(person_id);
  throw new ProblemError({ code: 'invalid_input', detail: 'Choose a technician.', field: 'person_id' });
}
