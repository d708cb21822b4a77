import { allows, isUuid, type Problem } from '@grainwright/domain';
import { endPrice, readPriceBook } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { type FormValues, formOf } from '../../../plugins/forms.ts';
import { ProblemError, unwrap } from '../../../plugins/problem-error.ts';
import { notFoundDetail } from '../../../plugins/problems.ts';
import { actorOf } from '../../../plugins/session.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { factorPeriods } from './factor-periods.ts';
import { type Periods, periodPage, type Values } from './period-page.ts';
import { ratePeriods } from './rate-periods.ts';
import { tierPeriods } from './tier-periods.ts';

interface ByCode {
  readonly Params: { readonly code: string };
}

/** Rates, tiers and care factors, each with its history and, for the owner, what changes it from a day on. */
export const pricePeriodPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;
  for (const periods of [ratePeriods, tierPeriods, factorPeriods]) {
    const path = `/office/price-book/${periods.path}/:code`;
    app.get<ByCode>(path, async (request, reply) => {
      const { code } = request.params;
      return send(request, reply, options, {
        periods,
        code,
        id: services.newId(),
        typed: null,
        problem: null,
      });
    });
    app.post<ByCode>(path, async (request, reply) => {
      const { code } = request.params;
      const form = formOf(request);
      const id = isUuid(form.text('id')) ? form.text('id') : services.newId();
      const sent = { code, id, text: (name: string) => form.text(name) };
      const changed = await periods.send(services, actorOf(request), sent);
      if (changed.ok) return reply.redirect(addressOf(periods, code), 303);
      const typed = typedIn(form, [...periods.fields, 'valid_from']);
      return send(request, reply, options, { periods, code, id, typed, problem: changed.problem });
    });
  }
  app.post<ByCode>('/office/price-book/rates/:code/end', async (request, reply) => {
    const { code } = request.params;
    const form = formOf(request);
    const input = { kind: 'rate' as const, id: idIn(form), validTo: form.text('valid_to') };
    const ended = await endPrice(services, actorOf(request), input);
    if (ended.ok) return reply.redirect(addressOf(ratePeriods, code), 303);
    const typed = typedIn(form, ['valid_to']);
    const shown = { periods: ratePeriods, code, id: services.newId(), typed, problem: ended.problem };
    return send(request, reply, options, shown);
  });
};

function addressOf(periods: Periods, code: string): string {
  return `/office/price-book/${periods.path}/${encodeURIComponent(code)}`;
}

function idIn(form: FormValues): string {
  const id = form.text('ended_id').toLowerCase();
  if (!isUuid(id)) throw new ProblemError({ code: 'not_found', detail: notFoundDetail });
  return id;
}

function typedIn(form: FormValues, names: readonly string[]): Values {
  return Object.fromEntries(names.map((name) => [name, form.text(name)]));
}

interface Shown {
  readonly periods: Periods;
  readonly code: string;
  readonly id: string;
  readonly typed: Values | null;
  readonly problem: Problem | null;
}

async function send(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  { periods, code, id, typed, problem }: Shown,
): Promise<FastifyReply> {
  const frame = await frameOf(request, reply, options);
  const book = unwrap(await readPriceBook(options.services, actorOf(request)));
  const found = periods.find(book, code);
  if (found === null) throw new ProblemError({ code: 'not_found', detail: notFoundDetail });
  const mayChange = allows(frame.me.role, 'change_price_book');
  if (!mayChange && problem !== null) throw new ProblemError(problem);
  const values = { ...found.values, ...typed };
  const page = { frame, periods, found, book, code, id, values, problem, mayChange };
  return sendPage(reply, periodPage(page), problem?.code);
}
