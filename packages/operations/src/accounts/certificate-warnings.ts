import { findAccountName, listCertificatesOf } from '@grainwright/db';
import {
  type AccountId,
  type CertificateWarning,
  certificateWarning,
  type Day,
  ok,
  type Result,
  refuse,
} from '@grainwright/domain';
import { type Actor, perform, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';

/** For work on a day, the accounts whose certificate ends soon or has ended; the others are not there. */
export async function certificateWarnings(
  { tx, business }: Pick<Scope, 'tx' | 'business'>,
  accountIds: readonly AccountId[],
  on: Day,
): Promise<ReadonlyMap<AccountId, CertificateWarning>> {
  const held = await listCertificatesOf(tx, [...new Set(accountIds)]);
  return new Map(
    [...held].flatMap(([id, certificates]) => {
      const warning = certificateWarning(certificates, on, business.certificateWarningDays);
      return warning === null ? [] : [[id, warning] as const];
    }),
  );
}

/** What an account is to send before its work is taxed, or because it is; for a contact only of the own account. */
export function readCertificateWarning(
  services: Services,
  actor: Actor,
  id: AccountId,
): Promise<Result<CertificateWarning | null>> {
  return perform(services, actor, 'see_work_orders', async (scope) => {
    const isOwn = actor.accountId === null || actor.accountId === id;
    if (!isOwn || (await findAccountName(scope.tx, id)) === null)
      return refuse('not_found', 'There is no such account.');
    return ok((await certificateWarnings(scope, [id], scope.today)).get(id) ?? null);
  });
}
