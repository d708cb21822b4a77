import type { AccountId, ExemptionCertificate } from '@grainwright/domain';
import { and, asc, eq, inArray } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { certificates } from '../schema/accounts.ts';

/** The exemption certificates of these accounts; an account without one is not there. */
export async function listCertificatesOf(
  tx: TenantTransaction,
  accountIds: readonly AccountId[],
): Promise<ReadonlyMap<AccountId, readonly ExemptionCertificate[]>> {
  if (accountIds.length === 0) return new Map();
  const rows = await tx
    .select()
    .from(certificates)
    .where(and(eq(certificates.tenantId, tx.tenantId), inArray(certificates.accountId, [...accountIds])))
    .orderBy(asc(certificates.validFrom), asc(certificates.id));
  const papers = rows.map(({ accountId, kind, number, validFrom, validTo }) => ({
    accountId,
    certificate: { kind, number, valid: { from: validFrom, to: validTo } },
  }));
  const byAccount = Map.groupBy(papers, (paper) => paper.accountId);
  return new Map([...byAccount].map(([id, held]) => [id, held.map((paper) => paper.certificate)]));
}
