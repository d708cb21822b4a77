import { type CoveringId, isUuid, type Problem, type RecordingId, toId } from '@grainwright/domain';
import { readWithholding, showRecording, withholdRecording } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { ProblemError, unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { withholdView } from './withhold-view.ts';

interface ById {
  Params: { id: string };
}

/** Keeping a recording from the account, and showing it again. */
export const withholdPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const path = '/office/recordings/:id/withholding';
  app.get<ById>(path, async (request, reply) => show(request, reply, options, '', null));

  app.post<ById>(path, async (request, reply) => {
    const form = formOf(request);
    const id = form.text('id').toLowerCase();
    if (!isUuid(id))
      throw new ProblemError({ code: 'invalid_input', detail: 'This form is not whole. Reload the page.' });
    const recordingId = pathId<RecordingId>(request.params.id);
    const reason = form.text('reason');
    const turn = form.text('withhold') === 'no' ? showRecording : withholdRecording;
    const turned = await turn(options.services, actorOf(request), {
      id: toId<CoveringId>(id),
      recordingId,
      reason,
    });
    if (turned.ok) return reply.redirect(`/office/recordings/${recordingId}/withholding`, 303);
    return show(request, reply, options, reason, turned.problem);
  });
};

async function show(
  request: FastifyRequest<ById>,
  reply: FastifyReply,
  options: PageOptions,
  reason: string,
  problem: Problem | null,
): Promise<FastifyReply> {
  if (problem?.code === 'not_found' || problem?.code === 'not_allowed') throw new ProblemError(problem);
  const id = pathId<RecordingId>(request.params.id);
  const page = {
    frame: await frameOf(request, reply, options),
    recording: unwrap(await readWithholding(options.services, actorOf(request), id)),
    form: { id: options.services.newId(), reason, problem },
  };
  return sendPage(reply, withholdView(page), problem?.code);
}
