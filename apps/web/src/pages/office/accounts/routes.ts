import { type AccountId, isUuid, toId } from '@grainwright/domain';
import { listAccounts, listHandedInToCheck } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { accountsView } from './view.ts';

interface Query {
  readonly search?: string;
  readonly ended?: string;
  readonly after?: string;
}

export const officeAccountsPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get<{ Querystring: Query }>('/office/accounts', async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    const search = String(request.query.search ?? '').trim();
    const withEnded = request.query.ended !== undefined;
    const after = String(request.query.after ?? '');
    const from = isUuid(after) ? toId<AccountId>(after) : undefined;
    const list = unwrap(
      await listAccounts(options.services, actorOf(request), { search, withEnded, after: from }),
    );
    const toCheck = unwrap(await listHandedInToCheck(options.services, actorOf(request)));
    const isLater = from !== undefined;
    return sendPage(reply, accountsView({ frame, list, search, withEnded, isLater, toCheck }));
  });
};
