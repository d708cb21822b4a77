import { type AccountId, isUuid, type PersonId, toId } from '@grainwright/domain';
import { readBoard } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { accountChoices } from '../account-choices.ts';
import { boardView } from './view.ts';

interface Query {
  readonly account?: string;
  readonly technician?: string;
}

/** All work that is not over, by what it waits for. */
export const officeBoardPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get<{ Querystring: Query }>('/office/board', async (request, reply) => {
    const { services } = options;
    const actor = actorOf(request);
    const account = String(request.query.account ?? '');
    const technician = String(request.query.technician ?? '');
    const accountId = isUuid(account) ? toId<AccountId>(account) : undefined;
    const technicianId = isUuid(technician) ? toId<PersonId>(technician) : undefined;
    const board = unwrap(await readBoard(services, actor, { accountId, technicianId }));
    const frame = await frameOf(request, reply, options);
    const accounts = await accountChoices(services, actor);
    const filter = { accountId: accountId ?? null, technicianId: technicianId ?? null };
    return sendPage(reply, boardView({ frame, board, accounts, filter }));
  });
};
