import type { RecordingId } from '@grainwright/domain';
import type { FastifyPluginAsync } from 'fastify';
import { sendRecording } from '../../plugins/send-recording.ts';
import { pathId } from '../path-id.ts';
import type { PageOptions } from '../person.ts';

/** The recordings on pages, for staff and contacts alike; who may open which is the operation's to say. */
export const recordingPages: FastifyPluginAsync<PageOptions> = async (app, { services }) => {
  for (const part of ['film', 'poster'] as const)
    app.get<{ Params: { id: string } }>(`/recordings/:id/${part}`, (request, reply) =>
      sendRecording(services, request, reply, {
        recordingId: pathId<RecordingId>(request.params.id),
        part,
      }),
    );
};
