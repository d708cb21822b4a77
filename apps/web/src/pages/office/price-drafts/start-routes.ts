import {
  addMonths,
  firstDay,
  isUuid,
  monthOf,
  type PriceDraftId,
  type Problem,
  parseDay,
  toId,
} from '@grainwright/domain';
import { exportPriceList, listDraftPriceLists, startPriceDraft } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { sendFile } from '../../../plugins/send-file.ts';
import { actorOf } from '../../../plugins/session.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { draftPath } from './draft-view.ts';
import { type DraftsPage, draftsPage, startFields } from './drafts-view.ts';

const path = '/office/price-book/drafts';

interface Typed {
  readonly id: string;
  readonly values: DraftsPage['values'] | null;
}

/** The list of price lists, the form that starts one, and the list in force as a file. */
export const startPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;
  app.get<{ Querystring: { on?: string } }>('/office/price-book/rates.csv', async (request, reply) => {
    const asked = parseDay(String(request.query.on ?? ''), 'on');
    const on = asked.ok ? asked.value : null;
    return sendFile(reply, unwrap(await exportPriceList(services, actorOf(request), { on })));
  });
  app.get(path, async (request, reply) => send(request, reply, { id: services.newId(), values: null }, null));
  app.post(path, async (request, reply) => {
    const form = formOf(request);
    const id = isUuid(form.text('id')) ? form.text('id') : services.newId();
    const draftId = toId<PriceDraftId>(id);
    const input = {
      draftId,
      name: form.text('name'),
      countsFrom: form.text('counts_from'),
      copiedFrom: form.text('copied_from'),
    };
    const started = await startPriceDraft(services, actorOf(request), input);
    if (started.ok) return reply.redirect(draftPath(draftId), 303);
    const values = Object.fromEntries(startFields.map((name) => [name, form.text(name)]));
    return send(request, reply, { id, values }, started.problem);
  });

  async function send(
    request: FastifyRequest,
    reply: FastifyReply,
    { id, values: typed }: Typed,
    problem: Problem | null,
  ): Promise<FastifyReply> {
    const frame = await frameOf(request, reply, options);
    const list = unwrap(await listDraftPriceLists(services, actorOf(request)));
    const values = typed ?? { counts_from: firstDay(monthOf(addMonths(list.today, 1))) };
    return sendPage(reply, draftsPage({ frame, list, id, values, problem }), problem?.code);
  }
};
