import type { AccountId, Day, PersonId } from '@grainwright/domain';
import { and, asc, eq, gte, ilike, isNull, or, type SQL, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts, certificates, contacts, people, sites, taxAreas, tiers } from '../schema/accounts.ts';
import { lastAskPosition } from './approvals.ts';

export type AccountRow = typeof accounts.$inferSelect;
export type SiteRow = typeof sites.$inferSelect;
export type ContactRow = typeof contacts.$inferSelect;
export type CertificateRow = typeof certificates.$inferSelect;

/** The whole account, as staff see it. */
export async function findAccount(tx: TenantTransaction, id: AccountId): Promise<AccountRow | null> {
  const [row] = await tx
    .select()
    .from(accounts)
    .where(and(eq(accounts.tenantId, tx.tenantId), eq(accounts.id, id)));
  return row ?? null;
}

/** As `findAccount`, and nobody else changes it until the transaction ends. */
export async function lockAccount(tx: TenantTransaction, id: AccountId): Promise<AccountRow | null> {
  const [row] = await tx
    .select()
    .from(accounts)
    .where(and(eq(accounts.tenantId, tx.tenantId), eq(accounts.id, id)))
    .for('update');
  return row ?? null;
}

/** The account's name, which its contacts may read as well. */
export async function findAccountName(tx: TenantTransaction, id: AccountId): Promise<string | null> {
  const [row] = await tx
    .select({ name: accounts.name })
    .from(accounts)
    .where(and(eq(accounts.tenantId, tx.tenantId), eq(accounts.id, id)));
  return row?.name ?? null;
}

/** False when the id or the short name is taken. */
export async function insertAccount(
  tx: TenantTransaction,
  account: Omit<typeof accounts.$inferInsert, 'tenantId'>,
): Promise<boolean> {
  const rows = await tx
    .insert(accounts)
    .values({ tenantId: tx.tenantId, ...account })
    .onConflictDoNothing()
    .returning({ id: accounts.id });
  return rows.length === 1;
}

/** Which account has this short name; null: none. */
export async function findAccountIdByShortName(
  tx: TenantTransaction,
  shortName: string,
): Promise<AccountId | null> {
  const [row] = await tx
    .select({ id: accounts.id })
    .from(accounts)
    .where(and(eq(accounts.tenantId, tx.tenantId), eq(accounts.shortName, shortName)));
  return row?.id ?? null;
}

export async function updateAccount(
  tx: TenantTransaction,
  id: AccountId,
  change: Partial<Omit<AccountRow, 'tenantId' | 'id'>>,
): Promise<void> {
  await tx
    .update(accounts)
    .set(change)
    .where(and(eq(accounts.tenantId, tx.tenantId), eq(accounts.id, id)));
}

export interface AccountListRow {
  readonly id: AccountId;
  readonly shortName: string;
  readonly name: string;
  readonly kind: AccountRow['kind'];
  readonly tierCode: string;
  readonly tierName: string;
  readonly taxAreaCode: string;
  readonly termsDays: number;
  readonly statementKind: AccountRow['statementKind'];
  readonly endedOn: Day | null;
}

export interface AccountListQuery {
  /** Part of the name or of the short name; empty: all. */
  readonly search: string;
  /** Leaves out accounts that ended before this day; null: none left out. */
  readonly openOn: Day | null;
  /** The account after which to go on; null: from the start. */
  readonly after: AccountId | null;
  readonly limit: number;
}

/** Accounts by name. */
export async function listAccountRows(
  tx: TenantTransaction,
  query: AccountListQuery,
): Promise<readonly AccountListRow[]> {
  const { search, openOn, after } = query;
  const conditions: (SQL | undefined)[] = [eq(accounts.tenantId, tx.tenantId)];
  if (openOn !== null) conditions.push(or(isNull(accounts.endedOn), gte(accounts.endedOn, openOn)));
  if (search !== '') {
    const part = `%${search.replaceAll(/[\\%_]/g, '\\$&')}%`;
    conditions.push(or(ilike(accounts.name, part), ilike(accounts.shortName, part)));
  }
  if (after !== null)
    conditions.push(sql`(${accounts.name}, ${accounts.id}) > (select a.name, a.id from accounts a
      where a.tenant_id = ${tx.tenantId} and a.id = ${after})`);
  return tx
    .select({
      id: accounts.id,
      shortName: accounts.shortName,
      name: accounts.name,
      kind: accounts.kind,
      tierCode: accounts.tierCode,
      tierName: tiers.name,
      taxAreaCode: taxAreas.code,
      termsDays: accounts.termsDays,
      statementKind: accounts.statementKind,
      endedOn: accounts.endedOn,
    })
    .from(accounts)
    .innerJoin(tiers, and(eq(tiers.tenantId, accounts.tenantId), eq(tiers.code, accounts.tierCode)))
    .innerJoin(taxAreas, and(eq(taxAreas.tenantId, accounts.tenantId), eq(taxAreas.id, accounts.taxAreaId)))
    .where(and(...conditions))
    .orderBy(asc(accounts.name), asc(accounts.id))
    .limit(query.limit);
}

/** Names of accounts in their order, ended ones too. */
export async function listAccountNames(
  tx: TenantTransaction,
  limit: number,
): Promise<readonly Pick<AccountRow, 'id' | 'name' | 'shortName'>[]> {
  return tx
    .select({ id: accounts.id, name: accounts.name, shortName: accounts.shortName })
    .from(accounts)
    .where(eq(accounts.tenantId, tx.tenantId))
    .orderBy(asc(accounts.name), asc(accounts.id))
    .limit(limit);
}

/** False when the id is taken. */
export async function insertSite(tx: TenantTransaction, site: Omit<SiteRow, 'tenantId'>): Promise<boolean> {
  const rows = await tx
    .insert(sites)
    .values({ tenantId: tx.tenantId, ...site })
    .onConflictDoNothing()
    .returning({ id: sites.id });
  return rows.length === 1;
}

export async function findSite(tx: TenantTransaction, id: SiteRow['id']): Promise<SiteRow | null> {
  const [row] = await tx
    .select()
    .from(sites)
    .where(and(eq(sites.tenantId, tx.tenantId), eq(sites.id, id)));
  return row ?? null;
}

export async function listSites(tx: TenantTransaction, accountId: AccountId): Promise<readonly SiteRow[]> {
  return tx
    .select()
    .from(sites)
    .where(and(eq(sites.tenantId, tx.tenantId), eq(sites.accountId, accountId)))
    .orderBy(asc(sites.name), asc(sites.id))
    .limit(perAccountMax);
}

/** Adds somebody, to be asked after everybody who is there. False when they are a contact of the account already. */
export async function insertContact(
  tx: TenantTransaction,
  contact: Omit<ContactRow, 'tenantId' | 'askPosition'>,
): Promise<boolean> {
  const rows = await tx
    .insert(contacts)
    .values({ tenantId: tx.tenantId, ...contact, askPosition: lastAskPosition(tx, contact.accountId) })
    .onConflictDoNothing()
    .returning({ personId: contacts.personId });
  return rows.length === 1;
}

/** The contact's row, also of somebody who has left; locked for a change, or `share`: against one by somebody else. */
export async function lockContact(
  tx: TenantTransaction,
  accountId: AccountId,
  personId: PersonId,
  strength: 'update' | 'share' = 'update',
): Promise<ContactRow | null> {
  const [row] = await tx
    .select()
    .from(contacts)
    .where(isContact(tx, accountId, personId))
    .for(strength);
  return row ?? null;
}

/** Null: they are a contact again. */
export async function setContactEnd(
  tx: TenantTransaction,
  accountId: AccountId,
  personId: PersonId,
  endedOn: Day | null,
): Promise<void> {
  await tx
    .update(contacts)
    .set({ endedOn })
    .where(isContact(tx, accountId, personId));
}

export interface ContactListRow extends Omit<ContactRow, 'tenantId'> {
  readonly name: string;
  readonly email: string;
  readonly phone: string;
}

/** Everybody of the account, those still there first. */
export async function listContacts(
  tx: TenantTransaction,
  accountId: AccountId,
): Promise<readonly ContactListRow[]> {
  return tx
    .select({
      accountId: contacts.accountId,
      personId: contacts.personId,
      role: contacts.role,
      limitMinor: contacts.limitMinor,
      endedOn: contacts.endedOn,
      askPosition: contacts.askPosition,
      name: people.name,
      email: people.email,
      phone: people.phone,
    })
    .from(contacts)
    .innerJoin(people, and(eq(people.tenantId, contacts.tenantId), eq(people.id, contacts.personId)))
    .where(and(eq(contacts.tenantId, tx.tenantId), eq(contacts.accountId, accountId)))
    .orderBy(sql`${contacts.endedOn} desc nulls first`, asc(people.name), asc(people.id))
    .limit(perAccountMax);
}

/** False when the id is taken. */
export async function insertCertificate(
  tx: TenantTransaction,
  certificate: Omit<CertificateRow, 'tenantId'>,
): Promise<boolean> {
  const rows = await tx
    .insert(certificates)
    .values({ tenantId: tx.tenantId, ...certificate })
    .onConflictDoNothing()
    .returning({ id: certificates.id });
  return rows.length === 1;
}

export async function findCertificate(
  tx: TenantTransaction,
  id: CertificateRow['id'],
): Promise<CertificateRow | null> {
  const [row] = await tx
    .select()
    .from(certificates)
    .where(and(eq(certificates.tenantId, tx.tenantId), eq(certificates.id, id)));
  return row ?? null;
}

/** The account's certificates, the one that holds longest first. */
export async function listCertificates(
  tx: TenantTransaction,
  accountId: AccountId,
): Promise<readonly CertificateRow[]> {
  return tx
    .select()
    .from(certificates)
    .where(and(eq(certificates.tenantId, tx.tenantId), eq(certificates.accountId, accountId)))
    .orderBy(sql`${certificates.validTo} desc nulls first`, asc(certificates.id))
    .limit(perAccountMax);
}

const perAccountMax = 300;

function isContact(tx: TenantTransaction, accountId: AccountId, personId: PersonId): SQL | undefined {
  return and(
    eq(contacts.tenantId, tx.tenantId),
    eq(contacts.accountId, accountId),
    eq(contacts.personId, personId),
  );
}
