import { isUuid, type MembershipId, type Problem, refuse, toId } from '@grainwright/domain';
import {
  chooseMembership,
  joinBusiness,
  listOwnMemberships,
  readMe,
  type SignedIn,
  signIn,
  signOut,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { drawnFor } from '../../plugins/drawn-for.ts';
import { csrfToken, formOf } from '../../plugins/forms.ts';
import { type KeptForm, readKept } from '../../plugins/kept-form.ts';
import { unwrap } from '../../plugins/problem-error.ts';
import { clearSessionCookie, sessionOf, setSessionCookie } from '../../plugins/session.ts';
import { type PageOptions, startPage } from '../person.ts';
import { sendPage } from '../send-page.ts';
import { sendAgainView } from './send-again-view.ts';
import { chooseView, droppedView, signInView } from './view.ts';

type SignInOptions = PageOptions & { readonly secureCookies: boolean };

export const signInPages: FastifyPluginAsync<SignInOptions> = async (app, options) => {
  const { services, assets, secureCookies } = options;

  app.get('/', async (request, reply) => {
    const signedIn = request.signedIn;
    if (signedIn === null) return reply.redirect('/sign-in', 303);
    if (signedIn.actor === null) return reply.redirect('/choose-business', 303);
    return reply.redirect(startPage(unwrap(await readMe(services, signedIn.actor))), 303);
  });

  app.get<{ Querystring: { next?: string } }>('/sign-in', async (request, reply) => {
    const view = { email: '', next: ownPath(request.query.next), kept: null, problem: null };
    return sendPage(reply, signInView({ ...view, csrfToken: csrfToken(reply), assets: assets.urls }));
  });

  app.post('/sign-in', async (request, reply) => {
    const form = formOf(request);
    const email = form.text('email');
    const next = ownPath(form.text('next'));
    const kept = readKept(app, form.text('kept'));
    const signedIn = await signIn(services, {
      email,
      password: form.asTyped('password'),
      fromAddress: request.ip,
    });
    if (!signedIn.ok) {
      const view = {
        email,
        next,
        kept,
        problem: signedIn.problem,
        csrfToken: csrfToken(reply),
        assets: assets.urls,
      };
      return sendPage(reply, signInView(view), signedIn.problem.code);
    }
    if (kept !== null) return takeUp(reply, options, signedIn.value, kept);
    setSessionCookie(reply, signedIn.value.session.id, secureCookies);
    return reply.redirect(signedIn.value.session.membershipId === null ? '/choose-business' : next, 303);
  });

  app.get('/choose-business', async (request, reply) => sendChoice(request, reply, options, null));

  app.post('/choose-business', async (request, reply) => chooseBusiness(request, reply, options));

  app.post('/join-business', async (request, reply) => {
    const form = formOf(request);
    const input = { code: form.text('code'), newPassword: form.asTyped('new_password') };
    const joined = await joinBusiness(services, sessionOf(request), input);
    if (!joined.ok) return sendChoice(request, reply, options, { join: joined.problem });
    setSessionCookie(reply, joined.value.id, secureCookies);
    return reply.redirect('/', 303);
  });

  app.post('/sign-out', async (request, reply) => {
    if (request.signedIn !== null) await signOut(services, request.signedIn.session.id);
    clearSessionCookie(reply);
    // Forms that came back are kept for Back; whoever sits here next must not see them.
    reply.header('clear-site-data', '"cache"');
    return reply.redirect('/sign-in', 303);
  });
};

/** Shows what was kept to whoever had typed it, as the one they typed it as, for them to send. */
async function takeUp(
  reply: FastifyReply,
  { services, assets, secureCookies }: SignInOptions,
  { session, memberships }: SignedIn,
  kept: KeptForm,
): Promise<FastifyReply> {
  const typedAs = memberships.find(({ id }) => drawnFor(id) === kept.drawnFor);
  const stays = typedAs === undefined || typedAs.id === session.membershipId;
  const own = stays ? session : unwrap(await chooseMembership(services, session, typedAs.id));
  setSessionCookie(reply, own.id, secureCookies);
  if (typedAs === undefined) return sendPage(reply, droppedView(assets.urls));
  const token = csrfToken(reply, typedAs.id);
  const why = 'You are signed in again.';
  const ways = [{ label: 'Drop it and go to the start page', href: '/' }];
  return sendPage(reply, sendAgainView({ kept, why, ways, csrfToken: token, assets: assets.urls }));
}

async function chooseBusiness(
  request: FastifyRequest,
  reply: FastifyReply,
  options: SignInOptions,
): Promise<FastifyReply> {
  const session = sessionOf(request);
  const chosen = formOf(request).text('membership_id');
  const opened = isUuid(chosen)
    ? await chooseMembership(options.services, session, toId<MembershipId>(chosen))
    : refuse('invalid_input', 'Choose one of the businesses.');
  if (!opened.ok) return sendChoice(request, reply, options, { choice: opened.problem });
  setSessionCookie(reply, opened.value.id, options.secureCookies);
  return reply.redirect('/', 303);
}

async function sendChoice(
  request: FastifyRequest,
  reply: FastifyReply,
  { services, assets }: SignInOptions,
  problem: { readonly choice: Problem } | { readonly join: Problem } | null,
): Promise<FastifyReply> {
  const memberships = unwrap(await listOwnMemberships(services, sessionOf(request)));
  const choice = problem !== null && 'choice' in problem ? problem.choice : null;
  const join = problem !== null && 'join' in problem ? problem.join : null;
  const view = { memberships, choice, join, code: formOf(request).text('code') };
  return sendPage(
    reply,
    chooseView({ ...view, csrfToken: csrfToken(reply), assets: assets.urls }),
    (choice ?? join)?.code,
  );
}

/** Only a path of our own, so that a link can't send somebody on to another site after signing in. */
function ownPath(next: string | undefined): string {
  return next !== undefined && /^\/(?![/\\])[\x21-\x7e]*$/.test(next) ? next : '/';
}
