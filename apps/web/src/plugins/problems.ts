import { type Problem, type ProblemCode, problems } from '@grainwright/domain';
import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import fp from 'fastify-plugin';
import { hasZodFastifySchemaValidationErrors } from 'fastify-type-provider-zod';
import type { Assets } from '../look/assets.ts';
import { html } from '../look/html.ts';
import { plainPage } from '../look/layout.ts';
import { sendAgainView } from '../pages/sign-in/send-again-view.ts';
import { signInView } from '../pages/sign-in/view.ts';
import { isApi } from './api-scope.ts';
import { drawnFor } from './drawn-for.ts';
import { csrfToken } from './forms.ts';
import { type KeptForm, keepForm } from './kept-form.ts';
import { ProblemError } from './problem-error.ts';
import { waysBack } from './way-back.ts';

/**
 * One place that answers everything that went wrong: problem details (RFC 9457) under /api, a page elsewhere.
 * What is no problem of the person's is logged and answered without its insides.
 */
export const problemAnswers = fp(
  async (app: FastifyInstance, options: { assets: Assets }) => {
    app.setErrorHandler(async (error: FastifyError | ProblemError, request, reply) => {
      const answer = answerOf(error);
      if (answer === null) {
        request.log.error({ err: error }, 'a request failed');
        return send(request, reply, options.assets, {
          code: 'internal',
          title: 'Something went wrong on our side',
          status: 500,
          detail: `${isReading(request) ? 'Try again' : 'It is not known whether this was saved. Send the same again: it will not be done twice'}. If it stays, tell us the number of this request: ${request.id}`,
        });
      }
      const told = { ...problems[answer.code], ...answer };
      const kept = await keptOf(request, answer.code);
      return kept === null
        ? send(request, reply, options.assets, told)
        : sendKept(request, reply, options.assets, { kept, told });
    });
    app.setNotFoundHandler((request, reply) =>
      send(request, reply, options.assets, {
        code: 'not_found',
        ...problems.not_found,
        detail: notFoundDetail,
      }),
    );
  },
  { name: 'problem-answers' },
);

export const notFoundDetail =
  'There is nothing here under this address, or it is not yours to see. Check the link.';

function isReading(request: FastifyRequest): boolean {
  return request.method === 'GET' || request.method === 'HEAD';
}

type Told = Omit<Problem, 'code'> & { code: ProblemCode | 'internal'; title: string; status: number };

function answerOf(error: FastifyError | ProblemError): Problem | null {
  if (error instanceof ProblemError) return error.problem;
  if (hasZodFastifySchemaValidationErrors(error)) {
    const errors = error.validation.map((issue) => ({
      field: issue.instancePath.replace(/^\//, '').replaceAll('/', '.'),
      detail: issue.message ?? 'is not right',
    }));
    const first = errors[0];
    const detail = first
      ? `${first.field || error.validationContext || 'Input'}: ${first.detail}`
      : 'Check the input.';
    return { code: 'invalid_input', detail, errors, ...(first?.field ? { field: first.field } : {}) };
  }
  return (
    knownFastifyErrors[error.code] ??
    (error.statusCode === 400 ? (knownFastifyErrors.FST_ERR_CTP_INVALID_JSON_BODY ?? null) : null)
  );
}

const knownFastifyErrors: Readonly<Record<string, Problem>> = {
  FST_ERR_CTP_INVALID_JSON_BODY: {
    code: 'invalid_input',
    detail: 'The body is not valid JSON. Send one JSON object.',
  },
  FST_ERR_CTP_EMPTY_JSON_BODY: { code: 'invalid_input', detail: 'The body is empty. Send one JSON object.' },
  FST_ERR_CTP_INVALID_MEDIA_TYPE: {
    code: 'invalid_input',
    detail: 'Send the body as the type that this address takes; see /api/v1/openapi.json.',
  },
  FST_ERR_CTP_BODY_TOO_LARGE: {
    code: 'invalid_input',
    detail: 'The body is larger than 1 MB. Photos go to their own address.',
  },
  FST_INVALID_MULTIPART_CONTENT_TYPE: {
    code: 'invalid_input',
    detail: 'Send the photo as multipart/form-data.',
  },
  FST_REQ_FILE_TOO_LARGE: {
    code: 'photo_too_large',
    detail: 'The photo is larger than this server takes. Send a smaller one.',
  },
};

/** What was typed into a form that was not taken for no fault of its own. */
async function keptOf(request: FastifyRequest, code: ProblemCode): Promise<KeptForm | null> {
  if (isApi(request) || (code !== 'not_signed_in' && code !== 'form_expired')) return null;
  const kept = await keepForm(request);
  const here = request.signedIn?.session.membershipId ?? null;
  return kept === null || here === null || drawnFor(here) === kept.drawnFor ? kept : null;
}

/** The way to send it again: at once, or after signing in. */
function sendKept(
  request: FastifyRequest,
  reply: FastifyReply,
  assets: Assets,
  { kept, told }: { kept: KeptForm; told: Told },
): FastifyReply {
  const token = csrfToken(reply);
  const known = { kept, csrfToken: token, assets: assets.urls };
  const view = request.signedIn?.actor
    ? sendAgainView({ ...known, why: told.detail, ways: waysBack(request, told.code) })
    : signInView({ ...known, email: '', next: '/', problem: null });
  return reply
    .code(told.status)
    .header('cache-control', 'no-store')
    .type('text/html; charset=utf-8')
    .send(view.toString());
}

function send(request: FastifyRequest, reply: FastifyReply, assets: Assets, told: Told): FastifyReply {
  reply.code(told.status).header('cache-control', 'no-store');
  if (isApi(request)) {
    const { code, title, status, detail, field, errors } = told;
    return reply.type('application/problem+json').send({
      type: `/problems/${code}`,
      title,
      status,
      detail,
      code,
      ...(field ? { field } : {}),
      ...(errors ? { errors } : {}),
    });
  }
  // The way back in a sign-in's address would be the secret of a link.
  const { secretInAddress } = request.routeOptions.config;
  if (told.code === 'not_signed_in' && request.method === 'GET' && secretInAddress !== true)
    return reply.redirect(`/sign-in?next=${encodeURIComponent(request.url)}`, 303);
  // Whoever asks for a file reads what comes instead in the place where the file would be.
  if (/\.(csv|pdf)$/.test(request.routeOptions.url ?? ''))
    return reply.type('text/plain; charset=utf-8').send(`${told.title}. ${told.detail}\n`);
  return reply.type('text/html; charset=utf-8').send(
    plainPage({
      title: told.title,
      heading: told.title,
      body: html`<p>${told.detail}</p>
        ${waysBack(request, told.code).map(({ label, href }) => html`<p><a href="${href}">${label}</a></p>`)}`,
      assets: assets.urls,
    }).toString(),
  );
}
