import type { Problem } from '@grainwright/domain';
import { changePassword } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply } from 'fastify';
import { csrfToken, formOf } from '../../plugins/forms.ts';
import { sessionOf, setSessionCookie } from '../../plugins/session.ts';
import type { PageOptions } from '../person.ts';
import { sendPage } from '../send-page.ts';
import { passwordView } from './view.ts';

/** Where somebody signed in changes their own password. */
export const passwordPages: FastifyPluginAsync<PageOptions & { secureCookies: boolean }> = async (
  app,
  { services, assets, secureCookies },
) => {
  const send = (reply: FastifyReply, shown: { changed: boolean; problem: Problem | null }) =>
    sendPage(
      reply,
      passwordView({ ...shown, csrfToken: csrfToken(reply), assets: assets.urls }),
      shown.problem?.code,
    );

  app.get<{ Querystring: { changed?: string } }>('/password', async (request, reply) => {
    sessionOf(request);
    return send(reply, { changed: request.query.changed !== undefined, problem: null });
  });

  app.post('/password', async (request, reply) => {
    const session = sessionOf(request);
    const form = formOf(request);
    const changed = await changePassword(services, session, {
      old: form.asTyped('old_password'),
      new: form.asTyped('new_password'),
      fromAddress: request.ip,
    });
    if (!changed.ok) return send(reply, { changed: false, problem: changed.problem });
    setSessionCookie(reply, changed.value.id, secureCookies);
    return reply.redirect('/password?changed=yes', 303);
  });
};
