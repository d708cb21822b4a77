import type { AccountId } from '@grainwright/domain';
import { and, asc, eq, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts, contacts, people } from '../schema/accounts.ts';

export type OwnAccount = NonNullable<Awaited<ReturnType<typeof findOwnAccount>>>;

/** The account with the columns that its own contacts may read. */
export async function findOwnAccount(tx: TenantTransaction, id: AccountId) {
  const [row] = await tx
    .select({
      id: accounts.id,
      name: accounts.name,
      billingAddress: accounts.billingAddress,
      termsDays: accounts.termsDays,
      statementKind: accounts.statementKind,
      statementEmail: accounts.statementEmail,
      invoiceRule: accounts.invoiceRule,
      requiresRo: accounts.requiresRo,
      requiresPo: accounts.requiresPo,
      ownNumberKind: accounts.ownNumberKind,
      ownNumberRequired: accounts.ownNumberRequired,
      acceptanceRule: accounts.acceptanceRule,
      noShowFeeMinor: accounts.noShowFeeMinor,
      remindAfterHours: accounts.remindAfterHours,
      openedOn: accounts.openedOn,
      endedOn: accounts.endedOn,
    })
    .from(accounts)
    .where(and(eq(accounts.tenantId, tx.tenantId), eq(accounts.id, id)));
  return row ?? null;
}

export type AccountPerson = Awaited<ReturnType<typeof listAccountPeople>>[number];

/** Everybody of the account, those still there first; how to reach them is left to the business. */
export async function listAccountPeople(tx: TenantTransaction, accountId: AccountId) {
  return tx
    .select({
      personId: contacts.personId,
      name: people.name,
      role: contacts.role,
      limitMinor: contacts.limitMinor,
      endedOn: contacts.endedOn,
    })
    .from(contacts)
    .innerJoin(people, and(eq(people.tenantId, contacts.tenantId), eq(people.id, contacts.personId)))
    .where(and(eq(contacts.tenantId, tx.tenantId), eq(contacts.accountId, accountId)))
    .orderBy(sql`${contacts.endedOn} desc nulls first`, asc(people.name), asc(people.id))
    .limit(300);
}

/** What an account's own people may change of it; false where it is not there. */
export async function setRemindAfterHours(
  tx: TenantTransaction,
  id: AccountId,
  remindAfterHours: number | null,
): Promise<boolean> {
  const rows = await tx
    .update(accounts)
    .set({ remindAfterHours })
    .where(and(eq(accounts.tenantId, tx.tenantId), eq(accounts.id, id)))
    .returning({ id: accounts.id });
  return rows.length === 1;
}
