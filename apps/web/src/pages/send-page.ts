import { type ProblemCode, problems } from '@grainwright/domain';
import type { FastifyReply } from 'fastify';
import type { Html } from '../look/html.ts';

/** Sends a page; with a problem's code, under that problem's status. Pages are for one person and never cached. */
export function sendPage(reply: FastifyReply, page: Html, problem?: ProblemCode): FastifyReply {
  return reply
    .code(problem === undefined ? 200 : problems[problem].status)
    .header('cache-control', 'no-store')
    .type('text/html; charset=utf-8')
    .send(page.toString());
}
