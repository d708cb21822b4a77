import { addPhotoFromUpload, type Services } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { workOrderParams } from '../work-orders/schemas.ts';
import { addedPhoto } from './added-photo.ts';
import { addedPhotoAnswer, photoFromUploadBody } from './schemas.ts';

interface FromUploadRouteOptions {
  readonly services: Services;
  readonly temporaryFolder: string;
}

export const photoFromUploadRoutes: FastifyPluginAsyncZod<FromUploadRouteOptions> = async (app, options) => {
  const { services, temporaryFolder } = options;

  app.post(
    '/work-orders/:id/photos/from-upload',
    {
      schema: {
        summary: 'Add a photo that came in parts',
        description: 'Names a finished upload. The same photo again under the same id is kept once.',
        tags: ['Photos'],
        params: workOrderParams,
        body: photoFromUploadBody,
        response: { 201: addedPhotoAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { photo_id, upload_id, purpose, line_id, captured_at, retake_of, override_reason } = request.body;
      const photo = {
        photoId: photo_id,
        uploadId: upload_id,
        workOrderId: request.params.id,
        lineId: line_id,
        purpose,
        capturedAt: captured_at ?? null,
        retakeOf: retake_of ?? null,
        overrideReason: override_reason ?? null,
        directory: temporaryFolder,
      };
      return reply
        .code(201)
        .send(addedPhoto(unwrap(await addPhotoFromUpload(services, actorOf(request), photo))));
    },
  );
};
