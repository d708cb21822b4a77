import { type OpenedLink, openLink, type Services } from '@grainwright/operations';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { ProblemError, unwrap } from './problem-error.ts';

export type ApprovalLink = Extract<OpenedLink, { purpose: 'approval' }>;

/** Of every route under /link: what its address is, and that its forms need no token of this browser. */
export const linkRoute = { config: { secretInAddress: true } } as const;

export interface LinkParams {
  readonly token: string;
}

/** What the token in the address opens; a page is drawn from this alone, whoever is signed in beside it. */
export async function linkOf(
  services: Services,
  request: FastifyRequest<{ Params: LinkParams }>,
): Promise<OpenedLink> {
  return unwrap(await openLink(services, { token: request.params.token, fromAddress: request.ip }));
}

export async function approvalLinkOf(
  services: Services,
  request: FastifyRequest<{ Params: LinkParams }>,
): Promise<ApprovalLink> {
  const link = await linkOf(services, request);
  if (link.purpose !== 'approval') throw wrongPurpose();
  return link;
}

/**
 * What a token opens that comes as the bearer token, without an address. A session opens no link; its token has another
 * form.
 */
export async function bearerLinkOf(services: Services, request: FastifyRequest): Promise<OpenedLink> {
  const token = /^Bearer ([A-Za-z0-9_.-]+)$/.exec(request.headers.authorization ?? '')?.[1];
  if (token === undefined || !token.includes('.'))
    throw new ProblemError({
      code: 'not_signed_in',
      detail: 'Send the token of a link as the bearer token: the last part of its address.',
    });
  return unwrap(await openLink(services, { token, fromAddress: request.ip }));
}

/** Where a link's pages are. */
export function linkPath({ params }: FastifyRequest<{ Params: LinkParams }>): string {
  return `/link/${params.token}`;
}

/** Nothing that a link opens is kept by browsers, found by search engines or told to other sites. */
export function keepLinkSecret(reply: FastifyReply): void {
  reply.header('referrer-policy', 'no-referrer').header('x-robots-tag', 'noindex, nofollow');
}

export function wrongPurpose(): ProblemError {
  return new ProblemError({
    code: 'link_unknown',
    detail: 'This link opens something else. Open it from the mail again, or copy all of it.',
  });
}
