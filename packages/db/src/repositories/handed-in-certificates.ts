import type { AccountId, HandedInId } from '@grainwright/domain';
import { and, desc, eq, isNull, type SQL } from 'drizzle-orm';
import { alias } from 'drizzle-orm/pg-core';
import type { TenantTransaction } from '../database.ts';
import { accounts, people } from '../schema/accounts.ts';
import { certificateChecks, handedInCertificates } from '../schema/portal.ts';

export type HandedInRow = Omit<typeof handedInCertificates.$inferSelect, 'tenantId'>;
export type CertificateCheckRow = Omit<typeof certificateChecks.$inferSelect, 'tenantId'>;

/** A certificate that somebody of an account handed in, and what the business said to it. */
export interface FoundHandedIn extends HandedInRow {
  readonly accountName: string;
  readonly handedInByName: string;
  /** Null while nobody of the business has looked at it. */
  readonly check:
    | (Omit<CertificateCheckRow, 'handedInId' | 'accountId'> & { readonly checkedByName: string })
    | null;
}

/** False when the id is taken. */
export async function insertHandedIn(tx: TenantTransaction, row: HandedInRow): Promise<boolean> {
  const inserted = await tx
    .insert(handedInCertificates)
    .values({ tenantId: tx.tenantId, ...row })
    .onConflictDoNothing()
    .returning({ id: handedInCertificates.id });
  return inserted.length === 1;
}

/** False when it was checked already. */
export async function insertCertificateCheck(
  tx: TenantTransaction,
  row: CertificateCheckRow,
): Promise<boolean> {
  const inserted = await tx
    .insert(certificateChecks)
    .values({ tenantId: tx.tenantId, ...row })
    .onConflictDoNothing()
    .returning({ id: certificateChecks.handedInId });
  return inserted.length === 1;
}

export async function findHandedIn(tx: TenantTransaction, id: HandedInId): Promise<FoundHandedIn | null> {
  const [row] = await selectHandedIn(tx, eq(handedInCertificates.id, id), 1);
  return row ?? null;
}

export interface HandedInFilter {
  /** Null: of every account. */
  readonly accountId: AccountId | null;
  readonly waitingOnly: boolean;
  readonly limit: number;
}

/** The latest first. */
export function listHandedInRows(
  tx: TenantTransaction,
  filter: HandedInFilter,
): Promise<readonly FoundHandedIn[]> {
  const where = and(
    filter.accountId === null ? undefined : eq(handedInCertificates.accountId, filter.accountId),
    filter.waitingOnly ? isNull(certificateChecks.handedInId) : undefined,
  );
  return selectHandedIn(tx, where, filter.limit);
}

async function selectHandedIn(
  tx: TenantTransaction,
  where: SQL | undefined,
  limit: number,
): Promise<readonly FoundHandedIn[]> {
  const givers = alias(people, 'givers');
  const checkers = alias(people, 'checkers');
  const rows = await tx
    .select({
      handedIn: handedInCertificates,
      check: certificateChecks,
      accountName: accounts.name,
      handedInByName: givers.name,
      checkedByName: checkers.name,
    })
    .from(handedInCertificates)
    .innerJoin(
      accounts,
      and(
        eq(accounts.tenantId, handedInCertificates.tenantId),
        eq(accounts.id, handedInCertificates.accountId),
      ),
    )
    .innerJoin(
      givers,
      and(eq(givers.tenantId, handedInCertificates.tenantId), eq(givers.id, handedInCertificates.handedInBy)),
    )
    .leftJoin(
      certificateChecks,
      and(
        eq(certificateChecks.tenantId, handedInCertificates.tenantId),
        eq(certificateChecks.handedInId, handedInCertificates.id),
      ),
    )
    .leftJoin(
      checkers,
      and(eq(checkers.tenantId, certificateChecks.tenantId), eq(checkers.id, certificateChecks.checkedBy)),
    )
    .where(and(eq(handedInCertificates.tenantId, tx.tenantId), where))
    .orderBy(desc(handedInCertificates.handedInAt), desc(handedInCertificates.id))
    .limit(limit);
  return rows.map(({ handedIn, check, checkedByName, ...named }) => ({
    ...handedIn,
    ...named,
    check: check === null ? null : { ...check, checkedByName: checkedByName ?? '' },
  }));
}
