import { findAcceptance } from '@grainwright/db';
import { type AcceptanceId, type MailId, ok, type Result, type TenantId, toId } from '@grainwright/domain';
import { jobScope } from '../job-scope.ts';
import { queueMail } from '../mail/queue-mail.ts';
import type { Services } from '../services.ts';
import { ownersCopy, readOwnerFacts } from './owner-facts.ts';
import { copyMail } from './owner-mails.ts';
import { tellNotAccepted } from './tell-not-accepted.ts';

export interface CopyToMail {
  readonly tenantId: TenantId;
  readonly acceptanceId: AcceptanceId;
}

/**
 * The worker's part: mails the signer a copy of what they signed by a link, and tells the business of a no. Done twice
 * each is one mail; the copy has the answer's own id.
 */
export function mailOwnersCopy(
  services: Pick<Services, 'database' | 'links' | 'now' | 'newId'>,
  { tenantId, acceptanceId }: CopyToMail,
): Promise<Result<'queued' | 'nothing to do'>> {
  return services.database.withTenant({ role: 'staff', tenantId }, async (tx) => {
    const row = await findAcceptance(tx, acceptanceId);
    if (row === null || row.linkId === null) throw new Error(`nobody answered ${acceptanceId} by a link`);
    const found = await readOwnerFacts(tx, { id: row.linkId, workOrderId: row.workOrderId });
    if (!found.ok) return found;
    const { accountId, request } = found.value;
    const scope = await jobScope(services, tx, request.madeBy);
    if (row.outcome === 'not_accepted') {
      const told = await tellNotAccepted(scope, services.links.publicUrl, row);
      if (!told.ok) return told;
    }
    if (request.email === '') return ok('nothing to do');
    const queued = await queueMail(scope, {
      id: toId<MailId>(acceptanceId),
      kind: 'answer_copy',
      accountId,
      aboutId: row.workOrderId,
      to: [request.email],
      ...copyMail(ownersCopy(found.value, row)),
    });
    return queued.ok || queued.problem.code === 'id_reused' ? ok('queued') : queued;
  });
}
