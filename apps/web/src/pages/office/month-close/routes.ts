import { type MonthClosingId, type Problem, type Result, toId } from '@grainwright/domain';
import {
  closeMonth,
  exportLedger,
  type MonthCloseView,
  readMonthClose,
  reopenMonth,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { sendFile } from '../../../plugins/send-file.ts';
import { actorOf } from '../../../plugins/session.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { queryId } from '../../query-id.ts';
import { queryText } from '../../query-text.ts';
import { sendPage } from '../../send-page.ts';
import { monthClosePage } from './view.ts';

interface Params {
  readonly month: string;
}

export const officeMonthClosePages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;
  const newId = () => toId<MonthClosingId>(services.newId());

  app.get<{ Querystring: { month?: string } }>('/office/month-close', async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    const month = queryText(request.query.month);
    const view = unwrap(await readMonthClose(services, actorOf(request), { month }));
    return sendPage(reply, monthClosePage({ frame, view, closingId: newId(), reason: '', problem: null }));
  });

  app.get<{ Params: Params }>('/office/month-close/:month/ledger.csv', async (request, reply) =>
    sendFile(reply, unwrap(await exportLedger(services, actorOf(request), request.params))),
  );

  app.post<{ Params: Params }>('/office/month-close/:month/close', async (request, reply) => {
    const closingId = queryId<MonthClosingId>(formOf(request).text('id')) ?? newId();
    const { month } = request.params;
    const closed = await closeMonth(services, actorOf(request), { closingId, month });
    return answered(request, reply, { result: closed, month, closingId, reason: '' });
  });

  app.post<{ Params: Params }>('/office/month-close/:month/reopen', async (request, reply) => {
    const form = formOf(request);
    const closingId = queryId<MonthClosingId>(form.text('id')) ?? newId();
    const { month } = request.params;
    const reason = form.text('reason');
    const opened = await reopenMonth(services, actorOf(request), { closingId, month, reason });
    return answered(request, reply, { result: opened, month, closingId, reason });
  });

  async function answered(request: FastifyRequest, reply: FastifyReply, done: Done): Promise<FastifyReply> {
    const { result, month } = done;
    if (result.ok) return reply.redirect(`/office/month-close?month=${month}`, 303);
    const view = await readMonthClose(services, actorOf(request), { month });
    if (!view.ok) return unwrap(formRefused(result.problem));
    const frame = await frameOf(request, reply, options);
    const page = monthClosePage({ frame, view: view.value, ...done, problem: result.problem });
    return sendPage(reply, page, result.problem.code);
  }
};

interface Done {
  readonly result: Result<MonthCloseView>;
  readonly month: string;
  readonly closingId: MonthClosingId;
  readonly reason: string;
}

function formRefused(problem: Problem): Result<never> {
  return { ok: false, problem };
}
