import { problems } from '@grainwright/domain';
import { addUploadPart, readUpload, type Services } from '@grainwright/operations';
import type { FastifyRequest } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { ProblemError, unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { elsewhereAnswer, uploadAnswer, uploadParams } from './schemas.ts';
import { uploadState } from './upload-state.ts';

interface PartRouteOptions {
  readonly services: Services;
  readonly temporaryFolder: string;
}

export const uploadPartRoutes: FastifyPluginAsyncZod<PartRouteOptions> = async (app, options) => {
  const { services, temporaryFolder } = options;
  // Left where it is: a part goes from the connection to the disk.
  app.addContentTypeParser('application/octet-stream', (_request, _payload, done) => done(null));

  app.patch(
    '/uploads/:id',
    {
      schema: {
        summary: 'Send the next part',
        description:
          'application/octet-stream with the headers Upload-Offset (where in the file the part begins) and Content-Digest (RFC 9530: sha-256=:base64:). 200 means that it is held. A part sent again answers as the first time; one that begins elsewhere: 409 with the offset to go on from, also as the header Upload-Offset.',
        tags: ['Uploads'],
        consumes: ['application/octet-stream'],
        params: uploadParams,
        response: { 200: uploadAnswer, 409: elsewhereAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const actor = actorOf(request);
      const uploadId = request.params.id;
      const part = { uploadId, offset: offsetOf(request), sha256: digestOf(request) };
      const added = await addUploadPart(services, actor, {
        ...part,
        stream: request.raw,
        directory: temporaryFolder,
      });
      if (added.ok) return uploadState(added.value);
      const { code, detail, field } = added.problem;
      if (code !== 'upload_offset') throw new ProblemError(added.problem);
      const told = { code, detail, field };
      const { offset } = unwrap(await readUpload(services, actor, uploadId));
      return reply
        .code(409)
        .header('upload-offset', String(offset))
        .header('cache-control', 'no-store')
        .type('application/problem+json')
        .send({ ...problems.upload_offset, ...told, type: '/problems/upload_offset', offset });
    },
  );
};

function offsetOf(request: FastifyRequest): number {
  const given = request.headers['upload-offset'];
  if (typeof given === 'string' && /^\d{1,15}$/.test(given)) return Number(given);
  throw new ProblemError({
    code: 'invalid_input',
    detail: 'Say in the header Upload-Offset where in the file the part begins, as a number of bytes.',
    field: 'upload-offset',
  });
}

/** The SHA-256 of RFC 9530 §2 as hex; other digests beside it are not looked at. */
function digestOf(request: FastifyRequest): string {
  const given = request.headers['content-digest'];
  const found = /(?:^|,)\s*sha-256=:([A-Za-z0-9+/]{43}=):/.exec(typeof given === 'string' ? given : '');
  if (found?.[1] !== undefined) return Buffer.from(found[1], 'base64').toString('hex');
  throw new ProblemError({
    code: 'invalid_input',
    detail: 'Send the digest of the part in the header Content-Digest, as sha-256=:base64:.',
    field: 'content-digest',
  });
}
