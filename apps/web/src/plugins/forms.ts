import { Tokens } from '@fastify/csrf';
import formbody from '@fastify/formbody';
import type { MembershipId } from '@grainwright/domain';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import fp from 'fastify-plugin';
import { drawnFor } from './drawn-for.ts';
import { FormValues } from './form-values.ts';
import { ProblemError } from './problem-error.ts';

export { FormValues } from './form-values.ts';

declare module 'fastify' {
  interface FastifyInstance {
    secureCookies: boolean;
    /** The addresses that take forms, as they were registered: `/office/invoices/:id/void`. */
    formRoutes: readonly string[];
  }
  interface FastifyRequest {
    formSecret: string | null;
    /** What came with a file, once it was read. */
    uploaded: { readonly fields: FormValues; readonly fileField: string | null } | null;
  }
  interface FastifyContextConfig {
    /** The route takes a file. It reads the form part by part and calls `checkCsrf` itself, before anything else. */
    upload?: boolean;
    /** Its address holds a secret that no other site can know: the form needs no token, and the browser no cookie. */
    secretInAddress?: boolean;
  }
}

export function formOf(request: FastifyRequest): FormValues {
  return new FormValues(request.body);
}

const cookieName = 'grainwright_form';
const tokens = new Tokens({ algorithm: 'sha256' });

/**
 * The token that every form carries. Its secret is in a cookie of this browser. Behind a dot it tells whom the form was
 * drawn for: not as a proof of anything, but so that what one person typed is not sent as another's.
 */
export function csrfToken(
  reply: FastifyReply,
  membershipId: MembershipId | null = reply.request.signedIn?.session.membershipId ?? null,
): string {
  const { request } = reply;
  const known = request.formSecret ?? request.cookies[cookieName];
  const secret = known ?? tokens.secretSync();
  request.formSecret = secret;
  if (known === undefined) {
    reply.setCookie(cookieName, secret, {
      path: '/',
      httpOnly: true,
      sameSite: 'lax',
      secure: request.server.secureCookies,
    });
  }
  const token = tokens.create(secret);
  return membershipId === null ? token : `${token}.${drawnFor(membershipId)}`;
}

/** Throws unless the token belongs to this browser. A route that takes a file calls this, once it has read the token. */
export function checkCsrf(request: FastifyRequest, token: string): void {
  const secret = request.cookies[cookieName];
  const [own = ''] = token.split('.');
  if (secret !== undefined && tokens.verify(secret, own)) return;
  throw new ProblemError({
    code: 'form_expired',
    detail:
      'This form was open for too long, or this browser takes no cookies. Nothing of it was saved. Open its page anew and send it again.',
  });
}

/** Pages' forms: url-encoded bodies, and in each a token that other sites can't know. */
export const pageForms = fp(
  async (app: FastifyInstance, options: { secureCookies: boolean }) => {
    await app.register(formbody, { bodyLimit: 2_000_000 });
    app.decorate('secureCookies', options.secureCookies);
    const formRoutes: string[] = [];
    app.decorate('formRoutes', formRoutes);
    app.addHook('onRoute', ({ method, url }) => {
      if (method === 'POST') formRoutes.push(url);
    });
    app.decorateRequest('formSecret', null);
    app.decorateRequest('uploaded', null);
    app.addHook('preValidation', async (request) => {
      if (request.method === 'GET' || request.method === 'HEAD') return;
      // Elsewhere a multipart body is not read, so it has no token.
      if (request.routeOptions.config.secretInAddress === true) return;
      if (request.isMultipart() && request.routeOptions.config.upload === true) return;
      checkCsrf(request, formOf(request).text('_csrf'));
    });
  },
  { name: 'page-forms', dependencies: ['@fastify/cookie', '@fastify/multipart'] },
);
