import type { PriceDraftId, Problem } from '@grainwright/domain';
import { exportPriceDraft, readPriceDraft, savePriceDraft } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { sendFile } from '../../../plugins/send-file.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { draftPage, draftPath } from './draft-view.ts';
import { inputOf, listShown, listTyped, type TypedList, withRoom } from './typed-list.ts';

const path = '/office/price-book/drafts/:id';
const moreRows = 10;

interface ById {
  readonly Params: { readonly id: string };
}

/** The table of a draft, all of it in one form; and the draft as a file. */
export const editPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;
  app.get<ById>(path, async (request, reply) => send(request, reply, null, null));
  app.post<ById>(path, async (request, reply) => {
    const draftId = pathId<PriceDraftId>(request.params.id);
    const form = formOf(request);
    const typed = listTyped(form);
    if (form.text('action') === 'add') return send(request, reply, withRoom(typed, moreRows), null);
    const saved = await savePriceDraft(services, actorOf(request), inputOf(draftId, typed));
    if (saved.ok) return reply.redirect(`${draftPath(draftId)}?saved=yes`, 303);
    return send(request, reply, typed, saved.problem);
  });
  app.get<ById>(`${path}/list.csv`, async (request, reply) => {
    const draftId = pathId<PriceDraftId>(request.params.id);
    return sendFile(reply, unwrap(await exportPriceDraft(services, actorOf(request), { draftId })));
  });

  async function send(
    request: FastifyRequest<ById>,
    reply: FastifyReply,
    typed: TypedList | null,
    problem: Problem | null,
  ): Promise<FastifyReply> {
    const frame = await frameOf(request, reply, options);
    const draftId = pathId<PriceDraftId>(request.params.id);
    const draft = unwrap(await readPriceDraft(services, actorOf(request), { draftId }));
    const list = typed ?? withRoom(listShown(draft));
    // Whoever was overtaken sees both, and what was typed is saved the next time.
    const revision = problem?.code === 'shown_changed' ? draft.revision : list.revision;
    const saved = request.url === `${draftPath(draftId)}?saved=yes`;
    return sendPage(
      reply,
      draftPage({ frame, draft, list: { ...list, revision }, problem, saved }),
      problem?.code,
    );
  }
};
