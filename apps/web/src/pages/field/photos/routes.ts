import { isUuid, type LineId, type PhotoId, type Problem, toId, type WorkOrderId } from '@grainwright/domain';
import {
  type AddedPhoto,
  addPhoto,
  listPhotosToTake,
  type PhotosToTake,
  readWorkOrder,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { checkCsrf, type FormValues } from '../../../plugins/forms.ts';
import { type PhotoUpload, takeUpload } from '../../../plugins/photo-upload.ts';
import { ProblemError, unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { dueNow } from './due-now.ts';
import type { PhotoForm } from './photo-form.ts';
import { proposedForm } from './proposed-form.ts';
import { type PhotosPage, photosView } from './view.ts';

export interface PhotoPageOptions extends PageOptions {
  readonly temporaryFolder: string;
  readonly photoBytesMax: number;
  readonly recordingBytesMax: number;
}

interface PhotosAddress {
  Params: { id: string };
  Querystring: {
    line_id?: string;
    purpose?: string;
    choose?: string;
    retake?: string;
    sent?: string;
    kept?: string;
    kept_line?: string;
  };
}

export const fieldPhotoPages: FastifyPluginAsync<PhotoPageOptions> = async (app, options) => {
  app.get<PhotosAddress>('/field/work-orders/:id/photos', async (request, reply) => {
    const photos = unwrap(
      await listPhotosToTake(options.services, actorOf(request), pathId(request.params.id)),
    );
    const { choose, sent, kept, kept_line } = request.query;
    if (sent !== undefined && isUuid(sent)) return reply.redirect(afterPhoto(photos, sent), 303);
    const lineKept = kept_line === undefined ? null : await justWritten(request, options, kept_line);
    const { retake, line_id: lineId, purpose } = request.query;
    const form = proposedForm(photos, {
      photoId: options.services.newId(),
      ...{ retake, lineId, purpose, kept },
      choosing: choose === 'yes',
    });
    return send(request, reply, options, {
      photos,
      form,
      problem: null,
      kept: justKept(photos, kept),
      lineKept,
    });
  });

  app.post<PhotosAddress>(
    '/field/work-orders/:id/photos',
    { config: { upload: true } },
    async (request, reply) => {
      const workOrderId = pathId<WorkOrderId>(request.params.id);
      const answer = await takeUpload(request, options.photoBytesMax, (upload) =>
        receive(request, options, workOrderId, upload),
      );
      if ('problem' in answer) {
        const photos = unwrap(await listPhotosToTake(options.services, actorOf(request), workOrderId));
        return send(request, reply, options, { ...answer, photos, kept: null, lineKept: null });
      }
      const photos = unwrap(await listPhotosToTake(options.services, actorOf(request), workOrderId));
      return reply.redirect(afterPhoto(photos, answer.photoId), 303);
    },
  );
};

/** While vehicles of a row are written up, the last picture leads on to what comes next. */
function afterPhoto(photos: PhotosToTake, photoId: string): string {
  const isFine = justKept(photos, photoId)?.warnings.length === 0;
  const isDone = dueNow(photos).length === 0 && isFine && photos.workOrder.state === 'written_up';
  return `/field/work-orders/${photos.workOrder.id}${isDone ? '' : '/photos'}?kept=${photoId}`;
}

/** The line that was kept just now, with its price. */
async function justWritten(
  request: FastifyRequest<PhotosAddress>,
  { services }: PageOptions,
  lineId: string,
): Promise<PhotosPage['lineKept']> {
  const id = pathId<WorkOrderId>(request.params.id);
  const { lines, estimate, currency } = unwrap(await readWorkOrder(services, actorOf(request), id));
  const line = lines.find((each) => each.id === lineId);
  const priced = estimate?.lines.find((each) => each.lineId === lineId);
  if (line === undefined || priced === undefined) return null;
  const { words, measuredInches } = line;
  return { id: line.id, words, measuredInches, priceMinor: priced.netMinor, currency };
}

async function receive(
  request: FastifyRequest,
  options: PhotoPageOptions,
  workOrderId: WorkOrderId,
  { fields, file }: PhotoUpload,
): Promise<AddedPhoto | { form: PhotoForm; problem: Problem }> {
  checkCsrf(request, fields.text('_csrf'));
  const form = formOf(fields);
  if (file === null)
    return {
      form,
      problem: { code: 'invalid_input', detail: 'Take a photo, or choose one.', field: 'photo' },
    };
  if (!isUuid(form.photoId) || (form.lineId !== '' && !isUuid(form.lineId)))
    throw new ProblemError({ code: 'invalid_input', detail: 'This form is not whole. Reload the page.' });
  const added = await addPhoto(options.services, actorOf(request), {
    photoId: toId<PhotoId>(form.photoId),
    workOrderId,
    lineId: form.lineId === '' ? null : toId<LineId>(form.lineId),
    purpose: form.purpose,
    retakeOf: isUuid(form.retakeOf) ? toId<PhotoId>(form.retakeOf) : null,
    ...file,
    directory: options.temporaryFolder,
    bytesMax: options.photoBytesMax,
  });
  return added.ok ? added.value : { form, problem: added.problem };
}

function formOf(fields: FormValues): PhotoForm {
  return {
    photoId: fields.text('photo_id').toLowerCase(),
    lineId: fields.text('line_id').toLowerCase(),
    purpose: fields.text('purpose'),
    retakeOf: fields.text('retake_of').toLowerCase(),
    choosing: fields.checked('choose'),
  };
}

/** The photo named in the address, with what is to be said of it. */
function justKept({ photos, warned }: PhotosToTake, id: string | undefined): PhotosPage['kept'] {
  const photo = photos.find((each) => each.id === id);
  if (photo === undefined) return null;
  const warnings = warned.find((each) => each.id === id)?.warnings ?? [];
  return { id: photo.id, purpose: photo.purpose, warnings: warnings.map(({ sentence }) => sentence) };
}

async function send(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PhotoPageOptions,
  page: Omit<PhotosPage, 'frame' | 'owner' | 'newId' | 'bytesMax' | 'recordingCount'>,
): Promise<FastifyReply> {
  const frame = await frameOf(request, reply, options);
  const { tenantId, personId } = actorOf(request);
  const { newId } = options.services;
  const view = photosView({
    ...page,
    frame,
    owner: `${tenantId}.${personId}`,
    newId,
    bytesMax: options.photoBytesMax,
    recordingCount: page.photos.recordings.length,
  });
  return sendPage(reply, view, page.problem?.code);
}
