import { addRecording, type Services } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { sendRecording } from '../../plugins/send-recording.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { workOrderParams } from '../work-orders/schemas.ts';
import { addedRecordingAnswer, recordingFromUploadBody, recordingParams } from './schemas.ts';

interface RecordingRouteOptions {
  readonly services: Services;
  readonly temporaryFolder: string;
}

const tags = ['Recordings'];

export const recordingRoutes: FastifyPluginAsyncZod<RecordingRouteOptions> = async (app, options) => {
  const { services, temporaryFolder } = options;

  app.post(
    '/work-orders/:id/recordings/from-upload',
    {
      schema: {
        summary: 'Add a recording of the walk around the vehicle',
        description:
          'Names a finished upload: WebM, MP4 or QuickTime. The same recording again under the same id is kept once.',
        tags,
        params: workOrderParams,
        body: recordingFromUploadBody,
        response: { 201: addedRecordingAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { recording_id, upload_id, captured_at, seconds, poster } = request.body;
      const { recordingId, sha256, namesPlace } = unwrap(
        await addRecording(services, actorOf(request), {
          recordingId: recording_id,
          workOrderId: request.params.id,
          capturedAt: captured_at ?? null,
          seconds: seconds ?? null,
          poster: poster ? Buffer.from(poster, 'base64') : null,
          film: { uploadId: upload_id },
          directory: temporaryFolder,
        }),
      );
      return reply.code(201).send({ id: recordingId, sha256, names_place: namesPlace });
    },
  );

  for (const part of ['film', 'poster'] as const)
    app.get(
      `/recordings/:id/${part}`,
      {
        schema: {
          summary: part === 'film' ? 'The recording as it came' : 'The picture that stands for a recording',
          description: 'Answers a Range of bytes (RFC 9110 §14).',
          tags,
          params: recordingParams,
          response: {
            200: z.any().meta({ description: 'The file.' }),
            206: z.any().meta({ description: 'A part of it.' }),
            ...problemAnswer,
          },
        },
      },
      (request, reply) => sendRecording(services, request, reply, { recordingId: request.params.id, part }),
    );
};
