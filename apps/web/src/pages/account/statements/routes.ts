import type { AccountId } from '@grainwright/domain';
import {
  type Actor,
  exportStatement,
  listStatements,
  openStatementPdf,
  readStatement,
} from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { ProblemError, unwrap } from '../../../plugins/problem-error.ts';
import { notFoundDetail } from '../../../plugins/problems.ts';
import { sendFile } from '../../../plugins/send-file.ts';
import { actorOf } from '../../../plugins/session.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { accountStatementsView, accountStatementView } from './view.ts';

export const accountStatementPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get('/account/statements', async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    const actor = actorOf(request);
    const list = unwrap(await listStatements(services, actor, ownAccount(actor)));
    return sendPage(reply, accountStatementsView({ frame, list }));
  });

  app.get<{ Params: { month: string } }>('/account/statements/:month', async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    const actor = actorOf(request);
    const asked = { accountId: ownAccount(actor), month: request.params.month };
    const statement = unwrap(await readStatement(services, actor, asked));
    return sendPage(reply, accountStatementView({ frame, statement, publicUrl: services.links.publicUrl }));
  });

  app.get<{ Params: { month: string } }>('/account/statements/:month.csv', async (request, reply) => {
    const actor = actorOf(request);
    const asked = { accountId: ownAccount(actor), month: request.params.month };
    return sendFile(reply, unwrap(await exportStatement(services, actor, asked)));
  });

  app.get<{ Params: { month: string } }>('/account/statements/:month.pdf', async (request, reply) => {
    const actor = actorOf(request);
    const asked = { accountId: ownAccount(actor), month: request.params.month };
    return sendFile(reply, unwrap(await openStatementPdf(services, actor, asked)));
  });
};

function ownAccount(actor: Actor): AccountId {
  if (actor.accountId === null) throw new ProblemError({ code: 'not_found', detail: notFoundDetail });
  return actor.accountId;
}
