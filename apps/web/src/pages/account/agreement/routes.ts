import { listPurchaseOrders, listStandingApprovals } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { ProblemError, unwrap } from '../../../plugins/problem-error.ts';
import { notFoundDetail } from '../../../plugins/problems.ts';
import { actorOf } from '../../../plugins/session.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { agreementView } from './view.ts';

export const accountAgreementPages: FastifyPluginAsync<PageOptions> = async (
  app,
  { services, ...options },
) => {
  app.get('/account/agreement', async (request, reply) => {
    const frame = await frameOf(request, reply, { services, ...options });
    const actor = actorOf(request);
    const { accountId } = actor;
    if (accountId === null) throw new ProblemError({ code: 'not_found', detail: notFoundDetail });
    const { approvals, currency } = unwrap(await listStandingApprovals(services, actor, accountId));
    const { orders } = unwrap(await listPurchaseOrders(services, actor, accountId));
    return sendPage(reply, agreementView({ frame, approvals, orders, currency }));
  });
};
