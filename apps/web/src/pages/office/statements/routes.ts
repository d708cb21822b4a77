import {
  type AccountId,
  addDays,
  type Day,
  firstDay,
  type Month,
  monthOf,
  parseMonth,
} from '@grainwright/domain';
import { exportStatement, listStatements, readStatement } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
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

  app.get<{ Querystring: { account?: string; month?: string } }>(
    '/office/statements',
    async (request, reply) => {
      const frame = await frameOf(request, reply, options);
      const actor = actorOf(request);
      const accountId = queryId<AccountId>(request.query.account);
      const month = parseMonth(String(request.query.month ?? ''));
      if (accountId !== null && month.ok)
        return reply.redirect(`/office/accounts/${accountId}/statements/${month.value}`, 303);
      const list = accountId === null ? null : unwrap(await listStatements(services, actor, accountId));
      const accounts = await accountChoices(services, actor);
      return sendPage(
        reply,
        officeStatementsView({ frame, accounts, months: twoYearsBack(frame.me.today), list }),
      );
    },
  );

  app.get<{ Params: Params }>('/office/accounts/:id/statements/:month', async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    const statement = unwrap(await readStatement(services, actorOf(request), asked(request.params)));
    return sendPage(reply, officeStatementView({ frame, statement }));
  });

  app.get<{ Params: Params }>('/office/accounts/:id/statements/:month.csv', async (request, reply) =>
    sendFile(reply, unwrap(await exportStatement(services, actorOf(request), asked(request.params)))),
  );
};

function asked({ id, month }: Params) {
  return { accountId: pathId<AccountId>(id), month };
}

const monthsShown = 24;

function twoYearsBack(today: Day): readonly Month[] {
  const months = [monthOf(today)];
  for (let month = monthOf(today); months.length < monthsShown; months.push(month))
    month = monthOf(addDays(firstDay(month), -1));
  return months;
}
