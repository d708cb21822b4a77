import type { CertificateWarning } from '@grainwright/domain';
import { readCertificateWarning } from '@grainwright/operations';
import type { FastifyRequest } from 'fastify';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import type { PageOptions } from '../person.ts';

/** What the account of the contact who asks is to send; null while all is well. */
export async function ownCertificateWarning(
  request: FastifyRequest,
  { services }: PageOptions,
): Promise<CertificateWarning | null> {
  const actor = actorOf(request);
  if (actor.accountId === null) return null;
  return unwrap(await readCertificateWarning(services, actor, actor.accountId));
}
