import type { PriceDraftId, Problem, Result } from '@grainwright/domain';
import {
  type Actor,
  acceptPriceBookChanges,
  discardPriceDraft,
  type EndPriceDraftInput,
  publishPriceDraft,
  readPriceDraft,
  type Services,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { type FormValues, formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { draftPath } from './draft-view.ts';
import { publishPage } from './publish-view.ts';

const path = '/office/price-book/drafts/:id';

interface ById {
  readonly Params: { readonly id: string };
}
type End = (
  services: Services,
  actor: Actor,
  input: EndPriceDraftInput,
  form: FormValues,
) => Promise<Result<unknown>>;

const goOn: End = (services, actor, input, form) =>
  acceptPriceBookChanges(services, actor, { ...input, book: form.text('book') });

/** The ways that a draft ends, and the one by which it goes on though the price book changed. */
export const endPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;
  app.get<ById>(`${path}/publish`, async (request, reply) => send(request, reply, null));
  app.post<ById>(`${path}/publish`, async (request, reply) => end(request, reply, publishPriceDraft));
  app.post<ById>(`${path}/discard`, async (request, reply) => end(request, reply, discardPriceDraft));
  app.post<ById>(`${path}/go-on`, async (request, reply) => end(request, reply, goOn));

  async function end(request: FastifyRequest<ById>, reply: FastifyReply, by: End): Promise<FastifyReply> {
    const draftId = pathId<PriceDraftId>(request.params.id);
    const form = formOf(request);
    const revision = Number(form.text('revision')) || 0;
    const ended = await by(services, actorOf(request), { draftId, revision }, form);
    return ended.ok ? reply.redirect(draftPath(draftId), 303) : send(request, reply, ended.problem);
  }

  async function send(
    request: FastifyRequest<ById>,
    reply: FastifyReply,
    problem: Problem | null,
  ): Promise<FastifyReply> {
    const frame = await frameOf(request, reply, options);
    const draftId = pathId<PriceDraftId>(request.params.id);
    const draft = unwrap(await readPriceDraft(services, actorOf(request), { draftId }));
    return sendPage(reply, publishPage({ frame, draft, problem }), problem?.code);
  }
};
