import {
  chainAuditRecords,
  hasAuditWaiting,
  listAuditWaiting,
  lockChain,
  type TenantTransaction,
} from '@grainwright/db';
import { auditRecordText, digestHex, ok, type Result, type TenantId } from '@grainwright/domain';
import type { Services } from '../services.ts';

/** So many records are chained in one transaction. */
const recordsAtOnce = 500;

/**
 * Puts audit records that wait into their chain, in the order in which they were made, and answers how many. Two at
 * once wait for each other; stopped in the middle it is gone on with where it was.
 */
export async function chainAudit(
  services: Pick<Services, 'database' | 'now'>,
  tenantId: TenantId,
): Promise<Result<number>> {
  for (let chained = 0; ; ) {
    const batch = await services.database.withTenant({ role: 'worker', tenantId }, (tx) =>
      chainSome(services, tx),
    );
    if (!batch.ok || batch.value === 0) return batch.ok ? ok(chained) : batch;
    chained += batch.value;
  }
}

async function chainSome({ now }: Pick<Services, 'now'>, tx: TenantTransaction): Promise<Result<number>> {
  if (!(await hasAuditWaiting(tx))) return ok(0);
  await lockChain(tx, 'audit');
  const waiting = await listAuditWaiting(tx, recordsAtOnce);
  const links = waiting.map((fact) => ({ auditId: fact.id, recordSha256: digestHex(auditRecordText(fact)) }));
  await chainAuditRecords(tx, links, now());
  return ok(links.length);
}
