import {
  listStatementRuns,
  mailRunStatements,
  readStatementRun,
  runStatements,
  type Services,
  type StatementRunHead,
  type StatementRunView,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { askBody, mailedAnswer, runAnswer, runParams, runsAnswer, runsQuery } from './run-schemas.ts';

const tags = ['Statements'];

export const statementRunRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (
  app,
  { services },
) => {
  app.post(
    '/statement-runs',
    {
      schema: {
        summary: 'Issue the statements of a month',
        description:
          'The worker issues them; read the run for its progress. Sent again with the same id, month and accounts it is the same run; an account has one statement of a month, however often it is asked for.',
        tags,
        body: askBody,
        response: { 202: runAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: runId, month, account_ids: accountIds } = request.body;
      const run = unwrap(await runStatements(services, actorOf(request), { runId, month, accountIds }));
      return reply.code(202).send(answerRun(run));
    },
  );
  app.get(
    '/statement-runs',
    {
      schema: {
        summary: 'List runs of statements, latest first',
        tags,
        querystring: runsQuery,
        response: { 200: runsAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const list = unwrap(await listStatementRuns(services, actorOf(request), request.query.before ?? null));
      return { runs: list.rows.map(answerHead), next: list.next };
    },
  );
  app.get(
    '/statement-runs/:id',
    {
      schema: {
        summary: 'Read a run of statements and its progress',
        tags,
        params: runParams,
        response: { 200: runAnswer, ...problemAnswer },
      },
    },
    async (request) =>
      answerRun(unwrap(await readStatementRun(services, actorOf(request), request.params.id))),
  );
  app.post(
    '/statement-runs/:id/mail',
    {
      schema: {
        summary: 'Mail the statements of a run that have not been mailed yet',
        tags,
        params: runParams,
        response: { 202: mailedAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const mailed = unwrap(await mailRunStatements(services, actorOf(request), request.params.id));
      return reply.code(202).send({ queued: mailed.queued, without_address: [...mailed.withoutAddress] });
    },
  );
};

function answerRun(run: StatementRunView): z.input<typeof runAnswer> {
  return {
    ...answerHead(run),
    mailed: run.mailed,
    accounts: run.accounts.map((each) => ({
      account_id: each.accountId,
      short_name: each.shortName,
      name: each.accountName,
      state: each.state,
      statement_id: each.statementId,
      problem: each.problem,
      mailed: each.mailed,
    })),
  };
}

function answerHead(run: StatementRunHead) {
  return {
    id: run.id,
    month: run.month,
    all_accounts: run.allAccounts,
    asked_by: run.askedByName,
    asked_at: run.askedAt,
    finished: run.finished,
    counts: run.counts,
  };
}
