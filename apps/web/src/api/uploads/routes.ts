import { beginUpload, readUpload, type Services, type UploadLimits } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { uploadAnswer, uploadBody, uploadParams } from './schemas.ts';
import { uploadState } from './upload-state.ts';

export interface UploadRouteOptions extends UploadLimits {
  readonly services: Services;
}

export const uploadRoutes: FastifyPluginAsyncZod<UploadRouteOptions> = async (app, options) => {
  const { services } = options;
  app.post(
    '/uploads',
    {
      schema: {
        summary: 'Announce a file that comes in parts',
        description:
          'The same file announced again under the same id answers how far it has come, with 200. Then send its parts with PATCH, and name it where a photo or recording is added.',
        tags: ['Uploads'],
        body: uploadBody,
        response: { 200: uploadAnswer, 201: uploadAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { upload_id, bytes, sha256, media_type } = request.body;
      const file = { uploadId: upload_id, bytes, sha256, mediaType: media_type };
      const begun = unwrap(await beginUpload(services, actorOf(request), file, options));
      return reply.code(begun.isNew ? 201 : 200).send(uploadState(begun));
    },
  );

  app.get(
    '/uploads/:id',
    {
      schema: {
        summary: 'How far an upload has come',
        tags: ['Uploads'],
        params: uploadParams,
        response: { 200: uploadAnswer, ...problemAnswer },
      },
    },
    async (request) => uploadState(unwrap(await readUpload(services, actorOf(request), request.params.id))),
  );
};
