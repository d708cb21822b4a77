import { type CoveringId, isUuid, type PhotoId, type Problem, toId } from '@grainwright/domain';
import { coverPhoto, readCoverings, readPhoto, uncoverPhoto } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { ProblemError, unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { type CoveringForm, formShown, formTyped, regionsOf } from './form.ts';
import { coveringView } from './view.ts';

interface ById {
  Params: { id: string };
}

/** Covering parts of one photo, and taking that away. */
export const coveringPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get<ById>('/office/photos/:id/covering', async (request, reply) => show(request, reply, options, {}));

  app.post<ById>('/office/photos/:id/covering', async (request, reply) => {
    const photoId = pathId<PhotoId>(request.params.id);
    const form = formTyped(formOf(request));
    const covered = await coverPhoto(options.services, actorOf(request), {
      id: coveringId(form.id),
      photoId,
      regions: regionsOf(form),
      reason: form.reason,
    });
    if (covered.ok) return reply.redirect(`/office/photos/${photoId}/covering`, 303);
    return show(request, reply, options, { form, problem: covered.problem });
  });

  app.post<ById>('/office/photos/:id/uncover', async (request, reply) => {
    const photoId = pathId<PhotoId>(request.params.id);
    const form = formOf(request);
    const reason = form.text('uncover_reason');
    const id = coveringId(form.text('id').toLowerCase());
    const uncovered = await uncoverPhoto(options.services, actorOf(request), { id, photoId, reason });
    if (uncovered.ok) return reply.redirect(`/office/photos/${photoId}/covering`, 303);
    const { problem } = uncovered;
    const field = problem.field === 'reason' ? { field: 'uncover_reason' } : {};
    return show(request, reply, options, { uncover: { reason, problem: { ...problem, ...field } } });
  });
};

function coveringId(text: string): CoveringId {
  if (!isUuid(text))
    throw new ProblemError({ code: 'invalid_input', detail: 'This form is not whole. Reload the page.' });
  return toId<CoveringId>(text);
}

interface ShownAgain {
  readonly form?: CoveringForm;
  readonly problem?: Problem;
  readonly uncover?: { readonly reason: string; readonly problem: Problem };
}

async function show(
  request: FastifyRequest<ById>,
  reply: FastifyReply,
  options: PageOptions,
  { form, problem, uncover }: ShownAgain,
): Promise<FastifyReply> {
  const told = problem ?? uncover?.problem;
  if (told?.code === 'not_found' || (told?.code === 'not_allowed' && told.field === undefined))
    throw new ProblemError(told);
  const { services, assets } = options;
  const photoId = pathId<PhotoId>(request.params.id);
  const photo = unwrap(await readCoverings(services, actorOf(request), photoId));
  const [newest] = photo.coverings;
  const page = {
    frame: { ...(await frameOf(request, reply, options)), coveringScript: assets.urls.covering },
    photo,
    onRecord: unwrap(await readPhoto(services, actorOf(request), photoId)),
    form: form ?? formShown(services.newId(), newest ?? null),
    problem: problem ?? null,
    uncover: { id: services.newId(), reason: uncover?.reason ?? '', problem: uncover?.problem ?? null },
  };
  return sendPage(reply, coveringView(page), told?.code);
}
