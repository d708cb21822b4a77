import type { AccountId, PriceDraftId } from '@grainwright/domain';
import { tryPriceDraft } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { trialPage, triedAccountPage } from './trial-view.ts';

const path = '/office/price-book/drafts/:id/trial';

/** What a draft would change, by account, and the work orders of one. */
export const trialPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;
  app.get<{ Params: { id: string } }>(path, async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    const input = { draftId: pathId<PriceDraftId>(request.params.id), accountId: null };
    const trial = unwrap(await tryPriceDraft(services, actorOf(request), input));
    return sendPage(reply, trialPage({ frame, trial }));
  });
  app.get<{ Params: { id: string; account: string } }>(`${path}/:account`, async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    const draftId = pathId<PriceDraftId>(request.params.id);
    const accountId = pathId<AccountId>(request.params.account);
    const trial = unwrap(await tryPriceDraft(services, actorOf(request), { draftId, accountId }));
    const [account] = trial.accounts;
    if (account === undefined) throw new Error('a trial of an account without that account');
    return sendPage(reply, triedAccountPage({ frame, trial, account }));
  });
};
