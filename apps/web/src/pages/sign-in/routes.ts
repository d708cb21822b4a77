import { isUuid, type MembershipId, toId } from '@grainwright/domain';
import { chooseMembership, listOwnMemberships, readMe, signIn, signOut } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { csrfToken, formOf } from '../../plugins/forms.ts';
import { ProblemError, unwrap } from '../../plugins/problem-error.ts';
import { clearSessionCookie, setSessionCookie } from '../../plugins/session.ts';
import { type PageOptions, startPage } from '../person.ts';
import { sendPage } from '../send-page.ts';
import { chooseView, signInView } from './view.ts';

export const signInPages: FastifyPluginAsync<PageOptions & { secureCookies: boolean }> = async (
  app,
  options,
) => {
  const { services, assets, secureCookies } = options;

  app.get('/', async (request, reply) => {
    const signedIn = request.signedIn;
    if (signedIn === null) return reply.redirect('/sign-in', 303);
    if (signedIn.actor === null) return reply.redirect('/choose-business', 303);
    return reply.redirect(startPage(unwrap(await readMe(services, signedIn.actor))), 303);
  });

  app.get<{ Querystring: { next?: string } }>('/sign-in', async (request, reply) => {
    const view = { email: '', next: ownPath(request.query.next), problem: null };
    return sendPage(reply, signInView({ ...view, csrfToken: csrfToken(reply), assets: assets.urls }));
  });

  app.post('/sign-in', async (request, reply) => {
    const form = formOf(request);
    const email = form.text('email');
    const next = ownPath(form.text('next'));
    const signedIn = await signIn(services, {
      email,
      password: form.all('password').at(-1) ?? '',
      fromAddress: request.ip,
    });
    if (!signedIn.ok) {
      const view = {
        email,
        next,
        problem: signedIn.problem,
        csrfToken: csrfToken(reply),
        assets: assets.urls,
      };
      return sendPage(reply, signInView(view), signedIn.problem.code);
    }
    setSessionCookie(reply, signedIn.value.session.id, secureCookies);
    return reply.redirect(signedIn.value.session.membershipId === null ? '/choose-business' : next, 303);
  });

  app.get('/choose-business', async (request, reply) => {
    const memberships = unwrap(await listOwnMemberships(services, sessionOf(request)));
    return sendPage(
      reply,
      chooseView({ memberships, problem: null, csrfToken: csrfToken(reply), assets: assets.urls }),
    );
  });

  app.post('/choose-business', async (request, reply) => chooseBusiness(request, reply, options));

  app.post('/sign-out', async (request, reply) => {
    if (request.signedIn !== null) await signOut(services, request.signedIn.session.id);
    clearSessionCookie(reply);
    return reply.redirect('/sign-in', 303);
  });
};

async function chooseBusiness(
  request: FastifyRequest,
  reply: FastifyReply,
  { services, assets, secureCookies }: PageOptions & { secureCookies: boolean },
): Promise<FastifyReply> {
  const session = sessionOf(request);
  const chosen = formOf(request).text('membership_id');
  const opened = isUuid(chosen)
    ? await chooseMembership(services, session, toId<MembershipId>(chosen))
    : {
        ok: false as const,
        problem: { code: 'invalid_input' as const, detail: 'Choose one of the businesses.' },
      };
  if (!opened.ok) {
    const memberships = unwrap(await listOwnMemberships(services, session));
    const view = { memberships, problem: opened.problem, csrfToken: csrfToken(reply), assets: assets.urls };
    return sendPage(reply, chooseView(view), opened.problem.code);
  }
  setSessionCookie(reply, opened.value.id, secureCookies);
  return reply.redirect('/', 303);
}

function sessionOf(request: FastifyRequest) {
  if (request.signedIn === null) throw new ProblemError({ code: 'not_signed_in', detail: 'Sign in first.' });
  return request.signedIn.session;
}

/** Only a path of our own, so that a link can't send somebody on to another site after signing in. */
function ownPath(next: string | undefined): string {
  return next !== undefined && /^\/(?![/\\])[\x21-\x7e]*$/.test(next) ? next : '/';
}
