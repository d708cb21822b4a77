import { type ProblemCode, problems } from '@grainwright/domain';
import type { FastifyReply } from 'fastify';
import type { Html } from '../look/html.ts';
import { isAboutSigningIn } from '../plugins/kept-form.ts';

/**
 * Sends a page; with a problem's code, under that problem's status. Pages are for one person and stored nowhere, but for
 * a form that came back: this browser keeps it, since what a form was answered with can't be asked for again, and Back
 * would find nothing. Signing out takes it away.
 */
export function sendPage(reply: FastifyReply, page: Html, problem?: ProblemCode): FastifyReply {
  const cameBack = problem !== undefined && reply.request.method === 'POST';
  const kept = cameBack && !isAboutSigningIn(reply.request.url);
  return reply
    .code(problem === undefined ? 200 : problems[problem].status)
    .header('cache-control', kept ? 'private, no-cache' : 'no-store')
    .type('text/html; charset=utf-8')
    .send(page.toString());
}
