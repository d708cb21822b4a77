import { type AccountId, isUuid, type StatementRunId, toId } from '@grainwright/domain';
import { mailRunStatements, readStatementRun, runStatements } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pageCursor } from '../../page-cursor.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { sendStatements } from '../statements/routes.ts';
import { runProgress, statementRunView } from './view.ts';

export const statementRunPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.post('/office/statements/runs', async (request, reply) => {
    const form = formOf(request);
    const sent = form.text('run_id');
    const runId = toId<StatementRunId>(isUuid(sent) ? sent : services.newId());
    const named = form.all('account_ids');
    const accountIds = named.filter(isUuid).map((id) => toId<AccountId>(id));
    const month = form.text('month');
    const asked = await runStatements(services, actorOf(request), {
      runId,
      month,
      accountIds: named.length === 0 ? null : accountIds,
    });
    if (!asked.ok) return sendStatements(request, reply, options, { problem: asked.problem, runId, month });
    return reply.redirect(`/office/statements/runs/${runId}`, 303);
  });

  app.get<{ Params: { id: string }; Querystring: { mailed?: string } }>(
    '/office/statements/runs/:id',
    async (request, reply) => {
      const frame = await frameOf(request, reply, options);
      const id = pathId<StatementRunId>(request.params.id);
      const run = unwrap(await readStatementRun(services, actorOf(request), id));
      const mailed = pageCursor(request.query.mailed);
      return sendPage(
        reply,
        statementRunView({ frame, run, mailed: mailed === undefined ? null : Number(mailed) }),
      );
    },
  );

  app.get<{ Params: { id: string } }>('/office/statements/runs/:id/progress', async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    const id = pathId<StatementRunId>(request.params.id);
    const run = unwrap(await readStatementRun(services, actorOf(request), id));
    return sendPage(reply, runProgress({ frame, run }));
  });

  app.post<{ Params: { id: string } }>('/office/statements/runs/:id/mail', async (request, reply) => {
    const id = pathId<StatementRunId>(request.params.id);
    const mailed = unwrap(await mailRunStatements(services, actorOf(request), id));
    return reply.redirect(`/office/statements/runs/${id}?mailed=${mailed.queued}`, 303);
  });
};
