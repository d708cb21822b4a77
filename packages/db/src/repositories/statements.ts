import type { AccountId, Month, StatementId } from '@grainwright/domain';
import { firstDay, monthOf } from '@grainwright/domain';
import { and, asc, desc, eq, inArray } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { statementFiles, statements } from '../schema/statements.ts';

type StoredStatement = typeof statements.$inferSelect;
export type StatementFileRow = typeof statementFiles.$inferSelect;

/** A statement as it was issued. */
export interface StatementRecord extends Omit<StoredStatement, 'tenantId' | 'month'> {
  readonly month: Month;
}

/** All of it but its content. */
export type StatementHead = Omit<StatementRecord, 'content'>;

/** Writes statements of accounts that are held (`holdStatementAccounts`), so that nobody else freezes one of theirs. */
export async function insertStatements(
  tx: TenantTransaction,
  records: readonly StatementRecord[],
): Promise<void> {
  if (records.length === 0) return;
  await tx
    .insert(statements)
    .values(records.map((each) => ({ tenantId: tx.tenantId, ...each, month: firstDay(each.month) })));
}

export async function findStatement(tx: TenantTransaction, id: StatementId): Promise<StatementRecord | null> {
  const [row] = await tx
    .select()
    .from(statements)
    .where(and(eq(statements.tenantId, tx.tenantId), eq(statements.id, id)));
  return row === undefined ? null : { ...row, month: monthOf(row.month) };
}

export async function findStatementOfMonth(
  tx: TenantTransaction,
  accountId: AccountId,
  month: Month,
): Promise<StatementRecord | null> {
  const [row] = await tx
    .select()
    .from(statements)
    .where(
      and(
        eq(statements.tenantId, tx.tenantId),
        eq(statements.accountId, accountId),
        eq(statements.month, firstDay(month)),
      ),
    );
  return row === undefined ? null : { ...row, month: monthOf(row.month) };
}

/** Every statement issued to these accounts, earliest first, without contents: twelve a year and account. */
export async function listStatementHeads(
  tx: TenantTransaction,
  accountIds: readonly AccountId[],
): Promise<readonly StatementHead[]> {
  const rows = await tx
    .select(headColumns)
    .from(statements)
    .where(and(eq(statements.tenantId, tx.tenantId), inArray(statements.accountId, [...accountIds])))
    .orderBy(asc(statements.month));
  return rows.map((row) => ({ ...row, month: monthOf(row.month) }));
}

/** Every statement issued to an account, the latest first: for the check of the books. */
export async function listStatementsWithContent(
  tx: TenantTransaction,
  accountId: AccountId,
): Promise<readonly StatementRecord[]> {
  const rows = await tx
    .select()
    .from(statements)
    .where(and(eq(statements.tenantId, tx.tenantId), eq(statements.accountId, accountId)))
    .orderBy(desc(statements.month));
  return rows.map((row) => ({ ...row, month: monthOf(row.month) }));
}

const headColumns = {
  id: statements.id,
  accountId: statements.accountId,
  month: statements.month,
  kind: statements.kind,
  posting: statements.posting,
  previousId: statements.previousId,
  currency: statements.currency,
  openingMinor: statements.openingMinor,
  chargesMinor: statements.chargesMinor,
  creditsMinor: statements.creditsMinor,
  paymentsMinor: statements.paymentsMinor,
  closingMinor: statements.closingMinor,
  sha256: statements.sha256,
  issuedBy: statements.issuedBy,
  issuedAt: statements.issuedAt,
};

export async function findStatementFile(
  tx: TenantTransaction,
  statementId: StatementId,
  kind: StatementFileRow['kind'],
): Promise<StatementFileRow | null> {
  const [row] = await tx
    .select()
    .from(statementFiles)
    .where(
      and(
        eq(statementFiles.tenantId, tx.tenantId),
        eq(statementFiles.statementId, statementId),
        eq(statementFiles.kind, kind),
      ),
    );
  return row ?? null;
}

/** Inserts it unless there is one: made twice at once, the first stays. */
export async function insertStatementFile(
  tx: TenantTransaction,
  file: Omit<StatementFileRow, 'tenantId'>,
): Promise<void> {
  await tx
    .insert(statementFiles)
    .values({ tenantId: tx.tenantId, ...file })
    .onConflictDoNothing();
}
