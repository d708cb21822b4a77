import {
  type AccountId,
  addDays,
  type Day,
  firstDay,
  isUuid,
  type MailId,
  type Month,
  monthOf,
  type Problem,
  parseMonth,
  type StatementRunId,
  toId,
} from '@grainwright/domain';
import {
  exportStatement,
  listStatementRuns,
  listStatements,
  mailStatement,
  openStatementPdf,
  readStatement,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { sendFile } from '../../../plugins/send-file.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { queryId } from '../../query-id.ts';
import { sendPage } from '../../send-page.ts';
import { accountChoices } from '../account-choices.ts';
import { officeStatementsView, officeStatementView } from './view.ts';

interface Params {
  readonly id: string;
  readonly month: string;
}

export const officeStatementPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<{ Querystring: { account?: string; month?: string; before?: string } }>(
    '/office/statements',
    async (request, reply) => {
      const accountId = queryId<AccountId>(request.query.account);
      const month = parseMonth(String(request.query.month ?? ''));
      if (accountId !== null && month.ok)
        return reply.redirect(`/office/accounts/${accountId}/statements/${month.value}`, 303);
      return sendStatements(request, reply, options, {
        accountId,
        before: queryId<StatementRunId>(request.query.before),
      });
    },
  );

  app.get<{ Params: Params; Querystring: { mailed?: string } }>(
    '/office/accounts/:id/statements/:month',
    async (request, reply) => sendStatement(request, reply, options, null),
  );

  app.get<{ Params: Params }>('/office/accounts/:id/statements/:month.csv', async (request, reply) =>
    sendFile(reply, unwrap(await exportStatement(services, actorOf(request), asked(request.params)))),
  );

  app.get<{ Params: Params }>('/office/accounts/:id/statements/:month.pdf', async (request, reply) =>
    sendFile(reply, unwrap(await openStatementPdf(services, actorOf(request), asked(request.params)))),
  );

  app.post<{ Params: Params; Querystring: { mailed?: string } }>(
    '/office/accounts/:id/statements/:month/mail',
    async (request, reply) => {
      const sent = formOf(request).text('mail_id');
      const mailId = toId<MailId>(isUuid(sent) ? sent : services.newId());
      const { accountId, month } = asked(request.params);
      const mailed = await mailStatement(services, actorOf(request), { accountId, month, mailId });
      if (!mailed.ok) return sendStatement(request, reply, options, mailed.problem);
      return reply.redirect(`/office/accounts/${accountId}/statements/${month}?mailed=yes`, 303);
    },
  );
};

function asked({ id, month }: Params) {
  return { accountId: pathId<AccountId>(id), month };
}

async function sendStatement(
  request: FastifyRequest<{ Params: Params; Querystring: { mailed?: string } }>,
  reply: FastifyReply,
  options: PageOptions,
  problem: Problem | null,
): Promise<FastifyReply> {
  const { services } = options;
  const frame = await frameOf(request, reply, options);
  const statement = unwrap(await readStatement(services, actorOf(request), asked(request.params)));
  const mailed = request.query.mailed !== undefined;
  return sendPage(
    reply,
    officeStatementView({
      frame,
      statement,
      newId: services.newId(),
      publicUrl: services.links.publicUrl,
      problem,
      mailed,
    }),
    problem?.code,
  );
}

/** What the page of statements is opened with, or comes back with. */
export interface StatementsAsked {
  readonly accountId?: AccountId | null;
  readonly before?: StatementRunId | null;
  readonly problem?: Problem;
  readonly runId?: StatementRunId;
  readonly month?: string;
}

export async function sendStatements(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  { accountId = null, before = null, problem, runId, month }: StatementsAsked,
): Promise<FastifyReply> {
  const { services } = options;
  const frame = await frameOf(request, reply, options);
  const actor = actorOf(request);
  const list = accountId === null ? null : unwrap(await listStatements(services, actor, accountId));
  const accounts = await accountChoices(services, actor);
  const runs = unwrap(await listStatementRuns(services, actor, before));
  const issuing = { problem: problem ?? null, runId: runId ?? services.newId(), month: month ?? '' };
  const months = twoYearsBack(frame.me.today);
  return sendPage(
    reply,
    officeStatementsView({ frame, accounts, months, list, runs, issuing }),
    problem?.code,
  );
}

const monthsShown = 24;

function twoYearsBack(today: Day): readonly Month[] {
  const months = [monthOf(today)];
  for (let month = monthOf(today); months.length < monthsShown; months.push(month))
    month = monthOf(addDays(firstDay(month), -1));
  return months;
}
