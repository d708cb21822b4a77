import type { LineId } from '@grainwright/domain';
import { addPhoto, type Services } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { FormValues } from '../../plugins/forms.ts';
import { takeUpload } from '../../plugins/photo-upload.ts';
import { ProblemError, unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { workOrderParams } from '../work-orders/schemas.ts';
import { addedPhoto } from './added-photo.ts';
import { addedPhotoAnswer, photoFields } from './schemas.ts';

interface PhotoRouteOptions {
  readonly services: Services;
  readonly temporaryFolder: string;
  readonly photoBytesMax: number;
}

export const photoRoutes: FastifyPluginAsyncZod<PhotoRouteOptions> = async (app, options) => {
  const { services, temporaryFolder, photoBytesMax } = options;

  app.post(
    '/work-orders/:id/photos',
    {
      schema: {
        summary: 'Add a photo',
        description:
          'multipart/form-data with the fields photo_id (made by the client), purpose and, for a photo of one line, line_id, where known captured_at and retake_of, and after them the file: JPEG, PNG or WebP. The same photo again under the same id is kept once.',
        tags: ['Photos'],
        consumes: ['multipart/form-data'],
        params: workOrderParams,
        response: { 201: addedPhotoAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const actor = actorOf(request);
      const added = await takeUpload(request, photoBytesMax, async ({ fields, file }) => {
        if (file === null)
          throw new ProblemError({
            code: 'invalid_input',
            detail: 'Send the file after the fields.',
            field: 'photo',
          });
        const { stream, truncated } = file;
        const where = { workOrderId: request.params.id, directory: temporaryFolder, bytesMax: photoBytesMax };
        return unwrap(
          await addPhoto(services, actor, { ...readFields(fields), ...where, stream, truncated }),
        );
      });
      return reply.code(201).send(addedPhoto(added));
    },
  );
};

function readFields(fields: FormValues) {
  const read = photoFields.safeParse({
    photo_id: fields.text('photo_id'),
    line_id: fields.text('line_id'),
    purpose: fields.text('purpose'),
    captured_at: fields.text('captured_at'),
    retake_of: fields.text('retake_of'),
    override_reason: fields.text('override_reason'),
  });
  if (!read.success) {
    const field = read.error.issues[0]?.path.join('.') ?? 'photo_id';
    const detail = `${field}: send it before the file, ids as UUIDs.`;
    throw new ProblemError({ code: 'invalid_input', detail, field });
  }
  const { photo_id, line_id, purpose, captured_at, retake_of, override_reason } = read.data;
  const lineId: LineId | null = line_id === '' ? null : line_id;
  const capturedAt = captured_at === '' ? null : captured_at;
  const retakeOf = retake_of === '' ? null : retake_of;
  return { photoId: photo_id, lineId, purpose, capturedAt, retakeOf, overrideReason: override_reason };
}
