import { Tokens } from '@fastify/csrf';
import formbody from '@fastify/formbody';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import fp from 'fastify-plugin';
import { unprintable } from './printable.ts';
import { ProblemError } from './problem-error.ts';

declare module 'fastify' {
  interface FastifyInstance {
    secureCookies: boolean;
  }
  interface FastifyRequest {
    formSecret: string | null;
  }
  interface FastifyContextConfig {
    /** The route takes a file. It reads the form part by part and calls `checkCsrf` itself, before anything else. */
    upload?: boolean;
  }
}

/**
 * Fields of a form that was posted, by name. A field sent more than once keeps all its values in `all`. What can't be
 * printed is dropped: it comes along when text is pasted, and nobody can see it to mend it.
 */
export class FormValues {
  readonly #fields: ReadonlyMap<string, readonly string[]>;
  constructor(body: unknown) {
    const entries = body !== null && typeof body === 'object' ? Object.entries(body) : [];
    this.#fields = new Map(
      entries.map(([name, value]) => [
        name,
        (Array.isArray(value) ? value : [value]).map((each) => withoutControls(String(each))),
      ]),
    );
  }
  text(name: string): string {
    return this.#fields.get(name)?.at(-1)?.trim() ?? '';
  }
  /** As `text`, with the space around it: for passwords. */
  asTyped(name: string): string {
    return this.#fields.get(name)?.at(-1) ?? '';
  }
  all(name: string): readonly string[] {
    return this.#fields.get(name) ?? [];
  }
  checked(name: string): boolean {
    return this.#fields.has(name);
  }
}

function withoutControls(text: string): string {
  return text.toWellFormed().replaceAll(unprintable, '');
}

export function formOf(request: FastifyRequest): FormValues {
  return new FormValues(request.body);
}

const cookieName = 'grainwright_form';
const tokens = new Tokens({ algorithm: 'sha256' });

/** The token that every form carries. Its secret is in a cookie of this browser. */
export function csrfToken(reply: FastifyReply): string {
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
  return tokens.create(secret);
}

/** Throws unless the token belongs to this browser. A route that takes a file calls this, once it has read the token. */
export function checkCsrf(request: FastifyRequest, token: string): void {
  const secret = request.cookies[cookieName];
  if (secret !== undefined && tokens.verify(secret, token)) return;
  throw new ProblemError({
    code: 'form_expired',
    detail:
      'This form is too old, or cookies are off. Go back, reload the page and send it again; what you typed is still there.',
  });
}

/** Pages' forms: url-encoded bodies, and in each a token that other sites can't know. */
export const pageForms = fp(
  async (app: FastifyInstance, options: { secureCookies: boolean }) => {
    await app.register(formbody, { bodyLimit: 2_000_000 });
    app.decorate('secureCookies', options.secureCookies);
    app.decorateRequest('formSecret', null);
    app.addHook('preValidation', async (request) => {
      if (request.method === 'GET' || request.method === 'HEAD') return;
      // Elsewhere a multipart body is not read, so it has no token.
      if (request.isMultipart() && request.routeOptions.config.upload === true) return;
      checkCsrf(request, formOf(request).text('_csrf'));
    });
  },
  { name: 'page-forms', dependencies: ['@fastify/cookie', '@fastify/multipart'] },
);
