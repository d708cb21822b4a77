import { instant } from '@grainwright/domain';
import {
  type AcceptanceView,
  answerByLink,
  type OwnersLinkOpened,
  type OwnersPage,
  type Services,
  showCopy,
  showToOwner,
} from '@grainwright/operations';
import type { FastifyRequest } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { z } from 'zod';
import { bearerLinkOf, wrongPurpose } from '../../plugins/link.ts';
import { unwrap } from '../../plugins/problem-error.ts';
import { acceptedAnswer, shownJson } from '../acceptance/schemas.ts';
import { problemAnswer } from '../schemas.ts';
import { answerByLinkBody, copyPageAnswer, ownersPageAnswer, type signedAnswer } from './schemas.ts';

const tags = ['Links'];

/** What a vehicle's owner does by a link. Its token, the last part of its address, comes as the bearer token. */
export const byLinkRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/by-link/acceptance',
    {
      schema: {
        summary: 'By the token of a link: what its vehicle’s owner looks at and signs, or the copy of it',
        tags,
        response: { 200: ownersPageAnswer, ...problemAnswer },
      },
    },
    async (request) => answerPage(unwrap(await showToOwner(services, await ownersLinkOf(services, request)))),
  );

  app.post(
    '/by-link/acceptance',
    {
      schema: {
        summary: 'By the token of a link: the answer of its vehicle’s owner',
        tags,
        body: answerByLinkBody,
        response: { 201: acceptedAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { body } = request;
      const link = await ownersLinkOf(services, request);
      const { acceptanceId, outcome, acceptedAt, digest, state } = unwrap(
        await answerByLink(services, link, {
          acceptanceId: body.id,
          shownDigest: body.shown_digest,
          outcome: body.outcome,
          remark: body.remark,
          signerName: body.signer_name,
          mark: body.signature,
          device: request.headers['user-agent'] ?? '',
          signerEmail: body.signer_email,
          answeredAt: body.answered_at === null ? null : instant(body.answered_at),
        }),
      );
      return reply
        .code(201)
        .send({ id: acceptanceId, outcome, accepted_at: acceptedAt, digest, state, copy: null });
    },
  );

  app.get(
    '/by-link/copy',
    {
      schema: {
        summary: 'By the token of a copy’s link: what was signed, to read again',
        tags,
        response: { 200: copyPageAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const link = await bearerLinkOf(services, request);
      if (link.purpose !== 'acceptance_copy') throw wrongPurpose();
      const { signed, readableUntil } = unwrap(await showCopy(services, link));
      return {
        readable_until: readableUntil,
        answers: signed.map(({ shown, answer }) => ({ shown: shownJson(shown), answer: signedJson(answer) })),
      };
    },
  );
};

async function ownersLinkOf(services: Services, request: FastifyRequest): Promise<OwnersLinkOpened> {
  const link = await bearerLinkOf(services, request);
  if (link.purpose !== 'acceptance') throw wrongPurpose();
  return link;
}

function answerPage(page: OwnersPage): z.infer<typeof ownersPageAnswer> {
  switch (page.stands) {
    case 'open': {
      const { signer, shown, digest, expect } = page;
      return { stands: 'open', signer, shown: shownJson(shown), digest, expect: [...expect] };
    }
    case 'answered': {
      const { shown, answer } = page.signed;
      return {
        stands: 'answered',
        shown: shownJson(shown),
        answer: signedJson(answer),
      };
    }
    case 'closed':
      return { stands: 'closed', why: page.why };
  }
}

function signedJson(answer: AcceptanceView): z.infer<typeof signedAnswer> {
  return {
    id: answer.id,
    outcome: answer.outcome,
    remark: answer.remark,
    signer_name: answer.signerName,
    signer_role: answer.signerRole,
    digest: answer.digest,
    accepted_at: answer.acceptedAt,
  };
}
