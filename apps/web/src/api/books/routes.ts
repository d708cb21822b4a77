import {
  closeMonth,
  exportLedger,
  type MonthCloseView,
  readMonthClose,
  reopenMonth,
  type Services,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { sendFile } from '../../plugins/send-file.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { closeBody, csvAnswer, monthAnswer, monthParams, reopenBody } from './schemas.ts';

const tags = ['Books'];
const response = { 200: monthAnswer, ...problemAnswer };

export const bookRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/months/:month',
    {
      schema: {
        summary: 'What is to be looked at before a month is closed',
        tags,
        params: monthParams,
        response,
      },
    },
    async (request) =>
      answerMonth(unwrap(await readMonthClose(services, actorOf(request), { month: request.params.month }))),
  );
  app.get(
    '/months/:month/ledger.csv',
    {
      schema: {
        summary: 'The journal of a month as CSV, for another ledger',
        description: 'One batch a month: its debits equal its credits.',
        tags,
        params: monthParams,
        produces: ['text/csv'],
        response: { 200: csvAnswer, ...problemAnswer },
      },
    },
    async (request, reply) =>
      sendFile(reply, unwrap(await exportLedger(services, actorOf(request), request.params))),
  );
  app.post(
    '/months/:month/close',
    {
      schema: {
        summary: 'Close a month: nothing is posted in it any more',
        tags,
        params: monthParams,
        body: closeBody,
        response,
      },
    },
    async (request) => {
      const { month } = request.params;
      const closed = await closeMonth(services, actorOf(request), { closingId: request.body.id, month });
      return answerMonth(unwrap(closed));
    },
  );
  app.post(
    '/months/:month/reopen',
    {
      schema: {
        summary: 'Open a closed month again (owner only)',
        tags,
        params: monthParams,
        body: reopenBody,
        response,
      },
    },
    async (request) => {
      const { id: closingId, reason } = request.body;
      const { month } = request.params;
      return answerMonth(unwrap(await reopenMonth(services, actorOf(request), { closingId, month, reason })));
    },
  );
};

function answerMonth(view: MonthCloseView): z.input<typeof monthAnswer> {
  return {
    month: view.month,
    from: view.from,
    to: view.to,
    closed: view.closed,
    checks: view.checks.map(({ words, ...check }) => ({ ...check, detail: words })),
    not_yet: view.notYet,
    months: view.months.map(({ month, postings, closed }) => ({ month, postings, closed })),
    trail: view.trail.map((each) => ({
      id: each.id,
      month: each.month,
      action: each.action,
      reason: each.reason,
      last_posting: each.posting.toString(),
      done_by: each.doneByName,
      done_at: each.doneAt,
    })),
  };
}
