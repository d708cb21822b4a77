import { isUuid, type Problem, type RecordingId, toId, type WorkOrderId } from '@grainwright/domain';
import { type AddedRecording, addRecording, listPhotosToTake } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { checkCsrf } from '../../../plugins/forms.ts';
import { type PhotoUpload, takeUpload } from '../../../plugins/photo-upload.ts';
import { ProblemError, unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { type WalkAroundPage, walkAroundView } from './view.ts';

interface WalkAroundOptions extends PageOptions {
  readonly temporaryFolder: string;
  readonly recordingBytesMax: number;
}

interface WalkAroundAddress {
  Params: { id: string };
  Querystring: { kept?: string };
}

export const walkAroundPages: FastifyPluginAsync<WalkAroundOptions> = async (app, options) => {
  app.get<WalkAroundAddress>('/field/work-orders/:id/walk-around', (request, reply) =>
    send(request, reply, options, {
      recordingId: options.services.newId(),
      problem: null,
      isKept: request.query.kept === 'yes',
    }),
  );

  app.post<WalkAroundAddress>(
    '/field/work-orders/:id/walk-around',
    { config: { upload: true } },
    async (request, reply) => {
      const workOrderId = pathId<WorkOrderId>(request.params.id);
      const answer = await takeUpload(request, options.recordingBytesMax, (upload) =>
        receive(request, options, workOrderId, upload),
      );
      if ('problem' in answer) return send(request, reply, options, { ...answer, isKept: false });
      return reply.redirect(`/field/work-orders/${workOrderId}/walk-around?kept=yes`, 303);
    },
  );
};

async function receive(
  request: FastifyRequest,
  options: WalkAroundOptions,
  workOrderId: WorkOrderId,
  { fields, file }: PhotoUpload,
): Promise<AddedRecording | { recordingId: string; problem: Problem }> {
  checkCsrf(request, fields.text('_csrf'));
  const recordingId = fields.text('recording_id').toLowerCase();
  if (!isUuid(recordingId))
    throw new ProblemError({ code: 'invalid_input', detail: 'This form is not whole. Reload the page.' });
  if (file === null) {
    const detail = 'Record the walk around the vehicle, or choose a recording.';
    return { recordingId, problem: { code: 'invalid_input', detail, field: 'recording' } };
  }
  const added = await addRecording(options.services, actorOf(request), {
    recordingId: toId<RecordingId>(recordingId),
    workOrderId,
    capturedAt: null,
    seconds: null,
    poster: null,
    film: { ...file, bytesMax: options.recordingBytesMax },
    directory: options.temporaryFolder,
  });
  return added.ok ? added.value : { recordingId, problem: added.problem };
}

async function send(
  request: FastifyRequest<WalkAroundAddress>,
  reply: FastifyReply,
  options: WalkAroundOptions,
  page: Pick<WalkAroundPage, 'recordingId' | 'problem' | 'isKept'>,
): Promise<FastifyReply> {
  const actor = actorOf(request);
  const photos = unwrap(
    await listPhotosToTake(options.services, actor, pathId<WorkOrderId>(request.params.id)),
  );
  const frame = await frameOf(request, reply, options);
  const owner = `${actor.tenantId}.${actor.personId}`;
  return sendPage(reply, walkAroundView({ ...page, photos, frame, owner, waiting: [] }), page.problem?.code);
}
