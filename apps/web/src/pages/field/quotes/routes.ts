import { isUuid, type Problem, type QuoteId, toId, type WorkOrderId } from '@grainwright/domain';
import {
  giveQuote,
  type PartToQuote,
  readQuotes,
  readWorkOrder,
  takeQuoteBack,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { type FormValues, formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { quotesPage, type TypedQuote } from './view.ts';

interface QuotesAddress {
  Params: { id: string; quoteId: string };
  Querystring: { part?: string; side?: string };
}

/** What a new part would cost instead, asked for at the vehicle. */
export const quotePages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<QuotesAddress>('/field/work-orders/:id/quotes', async (request, reply) => {
    const { part = '', side = '' } = request.query;
    return show(request, reply, options, { part, side, typed: nothingTyped, problem: null });
  });

  app.post<QuotesAddress>('/field/work-orders/:id/quotes', async (request, reply) => {
    const workOrderId = pathId<WorkOrderId>(request.params.id);
    const form = formOf(request);
    const id = idIn(form, 'id') ?? toId<QuoteId>(services.newId());
    const typed = typedQuote(form);
    const [part, side] = [form.text('part'), form.text('side')];
    const quote = { id, workOrderId, part, side, ...typed, takenFromId: idIn(form, 'taken_from') };
    const given = await giveQuote(services, actorOf(request), quote);
    if (!given.ok) return show(request, reply, options, { part, side, typed, problem: given.problem });
    const open = given.value.replacement === null || given.value.replacement.unquoted.length > 0;
    const next = `/field/work-orders/${workOrderId}${open ? '/quotes' : ''}`;
    return reply.redirect(next, 303);
  });

  app.post<QuotesAddress>('/field/work-orders/:id/quotes/:quoteId/take-back', async (request, reply) => {
    const workOrderId = pathId<WorkOrderId>(request.params.id);
    const quoteId = pathId<QuoteId>(request.params.quoteId);
    const taken = await takeQuoteBack(services, actorOf(request), { workOrderId, quoteId });
    if (taken.ok) return reply.redirect(`/field/work-orders/${workOrderId}/quotes`, 303);
    const asked = { part: '', side: '', typed: nothingTyped, problem: taken.problem };
    return show(request, reply, options, asked);
  });
};

interface Asked {
  /** Empty: the first part that has no quote. */
  readonly part: string;
  readonly side: string;
  readonly typed: TypedQuote;
  readonly problem: Problem | null;
}

async function show(
  request: FastifyRequest<QuotesAddress>,
  reply: FastifyReply,
  options: PageOptions,
  { part, side, typed, problem }: Asked,
): Promise<FastifyReply> {
  const { services } = options;
  const workOrderId = pathId<WorkOrderId>(request.params.id);
  const view = unwrap(await readWorkOrder(services, actorOf(request), workOrderId));
  const quoted = unwrap(await readQuotes(services, actorOf(request), workOrderId));
  const named = quoted.parts.find((each) => isNamed(each, part, side));
  const unquoted = quoted.parts.find((each) => each.quote === null);
  const whole = quoted.quotes.some(({ placed }) => placed === null);
  const page = quotesPage({
    frame: await frameOf(request, reply, options),
    view,
    quoted,
    asked: quoted.open ? (named ?? (whole ? null : (unquoted ?? null))) : null,
    quoteId: services.newId(),
    typed,
    problem,
  });
  return sendPage(reply, page, problem?.code);
}

function isNamed({ placed }: PartToQuote, part: string, side: string): boolean {
  return placed.part === part && (placed.side ?? '') === side;
}

const nothingTyped: TypedQuote = { amount: '', partPrice: '', fittingHours: '', hourlyRate: '', note: '' };

function typedQuote(form: FormValues): TypedQuote {
  return {
    amount: form.text('amount'),
    partPrice: form.text('part_price'),
    fittingHours: form.text('fitting_hours'),
    hourlyRate: form.text('hourly_rate'),
    note: form.text('note'),
  };
}

function idIn(form: FormValues, name: string): QuoteId | null {
  const text = form.text(name).toLowerCase();
  return isUuid(text) ? toId<QuoteId>(text) : null;
}
