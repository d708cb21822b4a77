import { type Instant, instant } from '@grainwright/domain';
import { type Actor, readSession, type Services, type SignedInPerson } from '@grainwright/operations';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import fp from 'fastify-plugin';
import { isApi } from './api-scope.ts';
import { ProblemError, unwrap } from './problem-error.ts';
import { notFoundDetail } from './problems.ts';

declare module 'fastify' {
  interface FastifyRequest {
    signedIn: SignedInPerson | null;
  }
}

const cookieName = 'grainwright_session';

/** By which a module of our own pages says whose things it sends: the ids of the tenant and the person. */
const personHeader = 'x-grainwright-person';

/** By which a phone says when it did, by its own clock, what it sends only now. */
const madeAtHeader = 'x-grainwright-made-at';

/**
 * Who is asking: pages by their cookie, the API by a bearer token. Our own pages’ modules ask the API by the cookie too,
 * and name in a header whose things they send: no other site can add that header (it would have to be allowed by CORS,
 * which is allowed to nobody), and what one person kept on a phone is never taken as another's who signed in after.
 */
export const sessionReader = fp(
  async (app: FastifyInstance, options: { services: Services }) => {
    app.decorateRequest('signedIn', null);
    app.addHook('onRequest', async (request) => {
      if (request.routeOptions.url === undefined) return;
      const bearer = isApi(request) ? bearerToken(request) : undefined;
      const named = request.headers[personHeader];
      const byCookie =
        !isApi(request) || (request.headers.authorization === undefined && named !== undefined);
      const sessionId = bearer ?? (byCookie ? request.cookies[cookieName] : undefined);
      if (!sessionId) return;
      const signedIn = unwrap(await readSession(options.services, sessionId, request.ip));
      const actor = signedIn?.actor;
      const isNamed = actor ? named === `${actor.tenantId}.${actor.personId}` : false;
      if (!isApi(request) || bearer !== undefined || isNamed) request.signedIn = signedIn;
    });
  },
  { name: 'session-reader', dependencies: ['@fastify/cookie'] },
);

/** Whoever is signed in and acts for a tenant, staff or contact. */
export function actorOf(request: FastifyRequest): Actor {
  const actor = request.signedIn?.actor;
  if (!actor) throw new ProblemError({ code: 'not_signed_in', detail: 'Sign in first.' });
  // Nobody but the staff's own phones does things first and sends them later.
  const madeAt = isApi(request) && actor.accountId === null ? momentIn(request.headers[madeAtHeader]) : null;
  return madeAt === null ? actor : { ...actor, madeAt };
}

/** Null for what is no moment with its offset to UTC: then the time of receipt is all there is. */
function momentIn(header: string | readonly string[] | undefined): Instant | null {
  if (typeof header !== 'string' || !/^\d{4}-\d\d-\d\dT[\d:.]{5,20}(Z|[+-]\d\d:\d\d)$/.test(header))
    return null;
  try {
    return instant(header);
  } catch {
    return null;
  }
}

/** Whoever is signed in, also while no business was chosen. */
export function sessionOf(request: FastifyRequest): SignedInPerson['session'] {
  if (request.signedIn === null) throw new ProblemError({ code: 'not_signed_in', detail: 'Sign in first.' });
  return request.signedIn.session;
}

/** A page of the business's own staff. For anybody else it does not exist. */
export async function staffOnly(request: FastifyRequest): Promise<void> {
  if (actorOf(request).accountId !== null)
    throw new ProblemError({ code: 'not_found', detail: notFoundDetail });
}

/** A page of an account's contacts. For anybody else it does not exist. */
export async function contactsOnly(request: FastifyRequest): Promise<void> {
  if (actorOf(request).accountId === null)
    throw new ProblemError({ code: 'not_found', detail: notFoundDetail });
}

export function setSessionCookie(reply: FastifyReply, sessionId: string, secure: boolean): void {
  reply.setCookie(cookieName, sessionId, {
    path: '/',
    httpOnly: true,
    sameSite: 'lax',
    secure,
    // As long as a session may last. When it really ends, used or not, stands in the database.
    maxAge: 60 * 86_400,
  });
}

export function clearSessionCookie(reply: FastifyReply): void {
  reply.clearCookie(cookieName, { path: '/' });
}

function bearerToken(request: FastifyRequest): string | undefined {
  return /^Bearer ([a-z0-9]{40})$/.exec(request.headers.authorization ?? '')?.[1];
}
