import type { LineId } from '@grainwright/domain';
import { addPhoto, openPhoto, type PhotoKind, type Services } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { FormValues } from '../../plugins/forms.ts';
import { takeUpload } from '../../plugins/photo-upload.ts';
import { ProblemError, unwrap } from '../../plugins/problem-error.ts';
import { heldDigest, sendPhoto } from '../../plugins/send-photo.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { workOrderParams } from '../work-orders/schemas.ts';
import { addedPhotoAnswer, photoFields, photoParams } from './schemas.ts';

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
          'multipart/form-data with the fields photo_id (made by the client), purpose and, for a photo of one line, line_id, and after them the file: JPEG, PNG or WebP. The same photo again under the same id is kept once.',
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
      return reply.code(201).send({ id: added.photoId, sha256: added.sha256, warnings: [...added.warnings] });
    },
  );

  for (const kind of ['original', 'view', 'thumb'] as const satisfies PhotoKind[])
    app.get(
      `/photos/:id/${kind}`,
      {
        schema: {
          summary:
            kind === 'original' ? 'The photo as it came (staff only)' : `The photo’s upright copy: ${kind}`,
          description: 'While the copies are still being made: 503 with Retry-After.',
          tags: ['Photos'],
          params: photoParams,
          response: { 200: z.any().meta({ description: 'The image.' }), ...problemAnswer },
        },
      },
      async (request, reply) => {
        const opened = await openPhoto(services, actorOf(request), {
          photoId: request.params.id,
          kind,
          heldDigest: heldDigest(request),
        });
        if (!opened.ok && opened.problem.code === 'unavailable') reply.header('retry-after', '2');
        return sendPhoto(reply, unwrap(opened));
      },
    );
};

function readFields(fields: FormValues) {
  const read = photoFields.safeParse({
    photo_id: fields.text('photo_id'),
    line_id: fields.text('line_id'),
    purpose: fields.text('purpose'),
  });
  if (!read.success) {
    const field = read.error.issues[0]?.path.join('.') ?? 'photo_id';
    const detail = `${field}: send it before the file, ids as UUIDs.`;
    throw new ProblemError({ code: 'invalid_input', detail, field });
  }
  const { photo_id, line_id, purpose } = read.data;
  const lineId: LineId | null = line_id === '' ? null : line_id;
  return { photoId: photo_id, lineId, purpose };
}
