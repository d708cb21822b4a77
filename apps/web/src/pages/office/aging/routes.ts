import type { AccountId } from '@grainwright/domain';
import { exportAging, readAccountAging, readAging } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { unwrap } from '../../../plugins/problem-error.ts';
import { sendFile } from '../../../plugins/send-file.ts';
import { actorOf } from '../../../plugins/session.ts';
import { problemsOf } from '../../form-problems.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { queryId } from '../../query-id.ts';
import { queryText } from '../../query-text.ts';
import { sendPage } from '../../send-page.ts';
import { accountAgingPage, agingAskedAgain, agingPage } from './view.ts';

interface Asked {
  readonly as_of?: string;
  readonly after?: string;
}

export const officeAgingPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<{ Querystring: Asked }>('/office/aging', async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    const asOf = queryText(request.query.as_of);
    const after = queryId<AccountId>(request.query.after);
    const read = await readAging(services, actorOf(request), { asOf, after });
    if (read.ok) return sendPage(reply, agingPage({ frame, aging: read.value }));
    if (read.problem.field !== 'as_of') unwrap(read);
    const { summary } = problemsOf(read.problem, ['as_of']);
    return sendPage(
      reply,
      agingAskedAgain({ frame, asOf: asOf ?? '', problems: summary }),
      read.problem.code,
    );
  });

  app.get<{ Querystring: Asked }>('/office/aging.csv', async (request, reply) => {
    const asOf = queryText(request.query.as_of);
    return sendFile(reply, unwrap(await exportAging(services, actorOf(request), { asOf })));
  });

  app.get<{ Params: { id: string }; Querystring: Asked }>('/office/aging/:id', async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    const asOf = queryText(request.query.as_of);
    const accountId = pathId<AccountId>(request.params.id);
    const aging = unwrap(await readAccountAging(services, actorOf(request), { accountId, asOf }));
    return sendPage(reply, accountAgingPage({ frame, aging }));
  });
};
