import { keepInSpite, type PhotoOnRecord, readPhoto, type Services } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { idText, momentText, problemAnswer } from '../schemas.ts';
import { photoOverrideAnswer, photoOverrideBody, photoParams } from './schemas.ts';

/** What is on record of a photo besides its picture, and what its maker says of its warnings. */
export const photoRecordRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/photos/:id',
    {
      schema: {
        summary: 'What is on record of a photo, and what its camera wrote (staff only)',
        tags: ['Photos'],
        params: photoParams,
        response: { 200: photoAnswer, ...problemAnswer },
      },
    },
    async (request) => answerOf(unwrap(await readPhoto(services, actorOf(request), request.params.id))),
  );

  app.post(
    '/photos/:id/override',
    {
      schema: {
        summary: 'Keep a photo in spite of its warnings',
        description: 'With the reason, which stays on record. The same again under the same id counts once.',
        tags: ['Photos'],
        params: photoParams,
        body: photoOverrideBody,
        response: { 200: photoOverrideAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { override_id: overrideId, reason } = request.body;
      return unwrap(
        await keepInSpite(services, actorOf(request), { overrideId, photoId: request.params.id, reason }),
      );
    },
  );
};

const photoAnswer = z.object({
  id: idText,
  work_order_id: idText,
  line_id: idText.nullable(),
  purpose: z.string(),
  media_type: z.string(),
  bytes: z.string().meta({ description: 'A whole number in digits.' }),
  width: z.int().meta({ description: 'Pixels, as seen upright.' }),
  height: z.int(),
  sha256: z.string(),
  bare_sha256: z.string().nullable().meta({
    description: 'Of the same file without what the camera wrote into it; null for older photos.',
  }),
  taken_at_local: z.string().nullable().meta({ description: 'By the camera’s clock, without a zone.' }),
  captured_at: momentText.nullable().meta({ description: 'When the device says that it was taken.' }),
  received_at: momentText,
  received_from: idText,
  retake_of: idText.nullable(),
  position: z.object({ latitude: z.number(), longitude: z.number() }).nullable(),
  exif: z
    .record(z.string(), z.string())
    .nullable()
    .meta({ description: 'What the camera wrote, by the names of the tags: anybody’s word. Escape it.' }),
});

function answerOf(photo: PhotoOnRecord) {
  const { latitude, longitude } = photo;
  return {
    id: photo.id,
    work_order_id: photo.workOrderId,
    line_id: photo.lineId,
    purpose: photo.purpose,
    media_type: photo.mediaType,
    bytes: photo.bytes.toString(),
    width: photo.width,
    height: photo.height,
    sha256: photo.sha256,
    bare_sha256: photo.bareSha256,
    taken_at_local: photo.takenAtLocal,
    captured_at: photo.capturedAt,
    received_at: photo.receivedAt,
    received_from: photo.receivedFrom,
    retake_of: photo.retakeOf,
    position: latitude === null || longitude === null ? null : { latitude, longitude },
    exif: photo.exif === null ? null : { ...photo.exif },
  };
}
