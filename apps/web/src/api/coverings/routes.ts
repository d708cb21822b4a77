import {
  coverPhoto,
  readCoverings,
  type Services,
  showRecording,
  uncoverPhoto,
  withholdRecording,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { photoParams } from '../photos/schemas.ts';
import { problemAnswer } from '../schemas.ts';
import {
  answerCoverings,
  coveringBody,
  coveringsAnswer,
  madeAnswer,
  recordingParams,
  turnBody,
} from './schemas.ts';

const tags = ['Photos'];
const made = { 201: madeAnswer, ...problemAnswer };

/** What is covered in photos, and which recordings the account does not see. */
export const coveringRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/photos/:id/coverings',
    {
      schema: {
        summary: 'What was ever covered in a photo, the newest first (staff only)',
        tags,
        params: photoParams,
        response: { 200: coveringsAnswer, ...problemAnswer },
      },
    },
    async (request) =>
      answerCoverings(unwrap(await readCoverings(services, actorOf(request), request.params.id))),
  );

  app.post(
    '/photos/:id/coverings',
    {
      schema: {
        summary: 'Cover parts of a photo for everybody but the staff',
        description:
          'It takes the place of the covering before. From then on nobody else gets the photo without it; until its copies are made they get 503.',
        tags,
        params: photoParams,
        body: coveringBody,
        response: made,
      },
    },
    async (request, reply) => {
      const input = { ...request.body, photoId: request.params.id };
      return reply.code(201).send({ id: unwrap(await coverPhoto(services, actorOf(request), input)) });
    },
  );

  app.post(
    '/photos/:id/uncoverings',
    {
      schema: {
        summary: 'Take the covering of a photo away (owner of the business only)',
        tags,
        params: photoParams,
        body: turnBody,
        response: made,
      },
    },
    async (request, reply) => {
      const input = { ...request.body, photoId: request.params.id };
      return reply.code(201).send({ id: unwrap(await uncoverPhoto(services, actorOf(request), input)) });
    },
  );

  for (const [path, summary, turn] of [
    ['withholdings', 'Keep a recording from the account', withholdRecording],
    ['showings', 'Let the account see a recording again (owner of the business only)', showRecording],
  ] as const)
    app.post(
      `/recordings/:id/${path}`,
      { schema: { summary, tags, params: recordingParams, body: turnBody, response: made } },
      async (request, reply) => {
        const input = { ...request.body, recordingId: request.params.id };
        return reply.code(201).send({ id: unwrap(await turn(services, actorOf(request), input)) });
      },
    );
};
