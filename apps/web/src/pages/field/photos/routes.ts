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
import { dueNow, type PhotoForm, type PhotosPage, photosView } from './view.ts';

export interface PhotoPageOptions extends PageOptions {
  readonly temporaryFolder: string;
  readonly photoBytesMax: number;
}

interface PhotosAddress {
  Params: { id: string };
  Querystring: { line_id?: string; purpose?: string; choose?: string; kept?: string; kept_line?: string };
}

export const fieldPhotoPages: FastifyPluginAsync<PhotoPageOptions> = async (app, options) => {
  app.get<PhotosAddress>('/field/work-orders/:id/photos', async (request, reply) => {
    const photos = unwrap(
      await listPhotosToTake(options.services, actorOf(request), pathId(request.params.id)),
    );
    const { line_id, purpose, choose, kept, kept_line } = request.query;
    const lineKept = kept_line === undefined ? null : await justWritten(request, options, kept_line);
    const [first] = dueNow(photos);
    const form = {
      photoId: options.services.newId(),
      lineId: line_id ?? (first === undefined ? photos.lines[0]?.id : first.lineId) ?? '',
      purpose: purpose ?? first?.purposes[0] ?? '',
      choosing: choose === 'yes' || (purpose === undefined && first === undefined),
    };
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
      // While vehicles of a row are written up, the last picture leads on to what comes next.
      const isDone = dueNow(photos).length === 0 && justKept(photos, answer.photoId)?.warning === null;
      const back = isDone && photos.workOrder.state === 'written_up' ? '' : '/photos';
      return reply.redirect(`/field/work-orders/${workOrderId}${back}?kept=${answer.photoId}`, 303);
    },
  );
};

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
    choosing: fields.checked('choose'),
  };
}

/** The photo named in the address, told apart from an earlier one of the same bytes. */
function justKept(photos: PhotosToTake, id: string | undefined): PhotosPage['kept'] {
  const index = photos.photos.findIndex((photo) => photo.id === id);
  const photo = photos.photos[index];
  if (photo === undefined) return null;
  const twin = photos.photos.slice(0, index).find((earlier) => earlier.sha256 === photo.sha256);
  const warning = 'This is the same picture as one kept before. Take a new one if that is not meant.';
  return { purpose: photo.purpose, warning: twin === undefined ? null : warning };
}

async function send(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PhotoPageOptions,
  page: Omit<PhotosPage, 'frame'>,
): Promise<FastifyReply> {
  const { photo, sending } = options.assets.urls;
  const frame = { ...(await frameOf(request, reply, options)), photoScript: photo, sendingScript: sending };
  return sendPage(reply, photosView({ ...page, frame }), page.problem?.code);
}
