import type { Instant, MembershipId, TenantId, UserId } from '@grainwright/domain';
import { and, asc, eq, lte, sql } from 'drizzle-orm';
import type { RegistryTransaction } from '../database.ts';
import { memberships, sessions, signInFailures, tenants, users } from '../schema/registry.ts';
import type { Membership } from './members.ts';

export async function insertTenant(
  tx: RegistryTransaction,
  tenant: { id: TenantId; name: string; createdAt: Instant },
): Promise<boolean> {
  const rows = await tx.insert(tenants).values(tenant).onConflictDoNothing().returning({ id: tenants.id });
  return rows.length === 1;
}

export async function findTenantName(tx: RegistryTransaction, id: TenantId): Promise<string | null> {
  const [row] = await tx.select({ name: tenants.name }).from(tenants).where(eq(tenants.id, id));
  return row?.name ?? null;
}

export async function listTenants(
  tx: RegistryTransaction,
): Promise<readonly { id: TenantId; name: string }[]> {
  return tx
    .select({ id: tenants.id, name: tenants.name })
    .from(tenants)
    .orderBy(asc(tenants.createdAt), asc(tenants.id));
}

export interface User {
  readonly id: UserId;
  readonly passwordHash: string;
}

/** By e-mail, whatever its case; people who may no longer sign in are not found. */
export async function findUserByEmail(tx: RegistryTransaction, email: string): Promise<User | null> {
  const [row] = await tx
    .select({ id: users.id, passwordHash: users.passwordHash })
    .from(users)
    .where(and(eq(users.email, email.trim().toLowerCase()), sql`${users.disabledAt} is null`));
  return row ?? null;
}

/** False when the e-mail address or the id is taken. */
export async function insertUser(
  tx: RegistryTransaction,
  user: { id: UserId; email: string; passwordHash: string; createdAt: Instant },
): Promise<boolean> {
  const rows = await tx
    .insert(users)
    .values({ ...user, email: user.email.trim().toLowerCase() })
    .onConflictDoNothing()
    .returning({ id: users.id });
  return rows.length === 1;
}

export async function insertMembership(tx: RegistryTransaction, membership: Membership): Promise<boolean> {
  const rows = await tx
    .insert(memberships)
    .values(membership)
    .onConflictDoNothing()
    .returning({ id: memberships.id });
  return rows.length === 1;
}

export interface NamedMembership extends Membership {
  readonly tenantName: string;
}

export async function listMemberships(
  tx: RegistryTransaction,
  userId: UserId,
): Promise<readonly NamedMembership[]> {
  return tx
    .select(membershipColumns)
    .from(memberships)
    .innerJoin(tenants, eq(tenants.id, memberships.tenantId))
    .where(eq(memberships.userId, userId))
    .orderBy(asc(tenants.name), asc(memberships.id));
}

export async function findMembership(
  tx: RegistryTransaction,
  id: MembershipId,
): Promise<NamedMembership | null> {
  const [row] = await tx
    .select(membershipColumns)
    .from(memberships)
    .innerJoin(tenants, eq(tenants.id, memberships.tenantId))
    .innerJoin(users, and(eq(users.id, memberships.userId), sql`${users.disabledAt} is null`))
    .where(eq(memberships.id, id));
  return row ?? null;
}

const membershipColumns = {
  id: memberships.id,
  userId: memberships.userId,
  tenantId: memberships.tenantId,
  personId: memberships.personId,
  accountId: memberships.accountId,
  tenantName: tenants.name,
};

export type SessionRow = typeof sessions.$inferSelect;

export async function findSession(tx: RegistryTransaction, idHash: string): Promise<SessionRow | null> {
  const [row] = await tx.select().from(sessions).where(eq(sessions.idHash, idHash));
  return row ?? null;
}

export async function listSessions(tx: RegistryTransaction, userId: UserId): Promise<readonly SessionRow[]> {
  return tx.select().from(sessions).where(eq(sessions.userId, userId));
}

export async function insertSession(tx: RegistryTransaction, session: SessionRow): Promise<void> {
  await tx.insert(sessions).values(session);
}

export async function extendSession(
  tx: RegistryTransaction,
  idHash: string,
  expiresAt: Instant,
): Promise<void> {
  await tx.update(sessions).set({ expiresAt }).where(eq(sessions.idHash, idHash));
}

export async function removeSession(tx: RegistryTransaction, idHash: string): Promise<void> {
  await tx.delete(sessions).where(eq(sessions.idHash, idHash));
}

export async function removeSessionsOf(tx: RegistryTransaction, userId: UserId): Promise<void> {
  await tx.delete(sessions).where(eq(sessions.userId, userId));
}

export async function removeExpiredSessions(tx: RegistryTransaction, now: Instant): Promise<void> {
  await tx.delete(sessions).where(lte(sessions.expiresAt, now));
}

/** How many times signing in failed under this key in the window that is running. */
export async function countSignInFailures(
  tx: RegistryTransaction,
  keyHash: string,
  now: Instant,
): Promise<number> {
  const [row] = await tx.select().from(signInFailures).where(eq(signInFailures.keyHash, keyHash));
  return row === undefined || row.windowEndsAt <= now ? 0 : row.failures;
}

export async function addSignInFailure(
  tx: RegistryTransaction,
  keyHash: string,
  now: Instant,
  windowEndsAt: Instant,
): Promise<void> {
  await tx
    .insert(signInFailures)
    .values({ keyHash, failures: 1, windowEndsAt })
    .onConflictDoUpdate({
      target: signInFailures.keyHash,
      set: {
        failures: sql`case when ${signInFailures.windowEndsAt} <= ${now}::timestamptz then 1 else ${signInFailures.failures} + 1 end`,
        windowEndsAt: sql`case when ${signInFailures.windowEndsAt} <= ${now}::timestamptz then excluded.window_ends_at else ${signInFailures.windowEndsAt} end`,
      },
    });
}

export async function forgetSignInFailures(tx: RegistryTransaction, keyHash: string): Promise<void> {
  await tx.delete(signInFailures).where(eq(signInFailures.keyHash, keyHash));
}
