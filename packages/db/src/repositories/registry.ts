import type { Instant, MembershipId, PersonId, TenantId, UserId } from '@grainwright/domain';
import { and, asc, eq, inArray, isNotNull, isNull, lte, sql } from 'drizzle-orm';
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

/** Follows the name that the business has given itself. */
export async function renameTenant(tx: RegistryTransaction, id: TenantId, name: string): Promise<void> {
  await tx.update(tenants).set({ name }).where(eq(tenants.id, id));
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

/** The user's password as it is now; null for somebody who may no longer sign in. */
export async function findPasswordHash(tx: RegistryTransaction, userId: UserId): Promise<string | null> {
  const [row] = await tx
    .select({ passwordHash: users.passwordHash })
    .from(users)
    .where(and(eq(users.id, userId), sql`${users.disabledAt} is null`));
  return row?.passwordHash ?? null;
}

/** Replaces the password unless somebody has meanwhile; false then. It waits for sessions being opened. */
export async function replacePassword(
  tx: RegistryTransaction,
  userId: UserId,
  password: { readonly before: string; readonly after: string },
): Promise<boolean> {
  const rows = await tx
    .update(users)
    .set({ passwordHash: password.after })
    .where(and(eq(users.id, userId), eq(users.passwordHash, password.before)))
    .returning({ id: users.id });
  return rows.length === 1;
}

/** With a join code's digest the membership is pending: neither listed nor usable until the code was given. */
export async function insertMembership(
  tx: RegistryTransaction,
  membership: Membership & { readonly joinCodeHash: string | null },
): Promise<boolean> {
  const rows = await tx
    .insert(memberships)
    .values(membership)
    .onConflictDoNothing()
    .returning({ id: memberships.id });
  return rows.length === 1;
}

export interface MembershipThere {
  readonly id: MembershipId;
  readonly personId: PersonId;
  readonly pending: boolean;
}

/** What the user is in one place, pending or joined; locked for a change. */
export async function lockMembershipIn(
  tx: RegistryTransaction,
  userId: UserId,
  { tenantId, accountId }: Pick<Membership, 'tenantId' | 'accountId'>,
): Promise<MembershipThere | null> {
  const [row] = await tx
    .select({
      id: memberships.id,
      personId: memberships.personId,
      joinCodeHash: memberships.joinCodeHash,
    })
    .from(memberships)
    .where(
      and(
        eq(memberships.userId, userId),
        eq(memberships.tenantId, tenantId),
        accountId === null ? isNull(memberships.accountId) : eq(memberships.accountId, accountId),
      ),
    )
    .for('update');
  return row === undefined
    ? null
    : { id: row.id, personId: row.personId, pending: row.joinCodeHash !== null };
}

/**
 * A pending membership gets another code, or null and is joined, and the person it was asked for last. The code before
 * is worth nothing now.
 */
export async function renewPendingMembership(
  tx: RegistryTransaction,
  id: MembershipId,
  pending: { readonly personId: PersonId; readonly joinCodeHash: string | null },
): Promise<void> {
  await tx
    .update(memberships)
    .set(pending)
    .where(and(eq(memberships.id, id), isNotNull(memberships.joinCodeHash)));
}

/** The user's pending membership that the code belongs to. */
export async function findPendingMembership(
  tx: RegistryTransaction,
  userId: UserId,
  joinCodeHash: string,
): Promise<MembershipId | null> {
  const [row] = await tx
    .select({ id: memberships.id })
    .from(memberships)
    .where(and(eq(memberships.userId, userId), eq(memberships.joinCodeHash, joinCodeHash)));
  return row?.id ?? null;
}

/** Null when the user has no pending membership with this code. */
export async function joinMembership(
  tx: RegistryTransaction,
  userId: UserId,
  joinCodeHash: string,
): Promise<MembershipId | null> {
  const [row] = await tx
    .update(memberships)
    .set({ joinCodeHash: null })
    .where(and(eq(memberships.userId, userId), eq(memberships.joinCodeHash, joinCodeHash)))
    .returning({ id: memberships.id });
  return row?.id ?? null;
}

export interface NamedMembership extends Membership {
  readonly tenantName: string;
}

/** What the user has joined. */
export async function listMemberships(
  tx: RegistryTransaction,
  userId: UserId,
): Promise<readonly NamedMembership[]> {
  return tx
    .select(membershipColumns)
    .from(memberships)
    .innerJoin(tenants, eq(tenants.id, memberships.tenantId))
    .where(and(eq(memberships.userId, userId), isNull(memberships.joinCodeHash)))
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
    .where(and(eq(memberships.id, id), isNull(memberships.joinCodeHash)));
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

/** Waits while the user's password is being replaced, so that no session of before outlives it. */
export async function insertSession(tx: RegistryTransaction, session: SessionRow): Promise<void> {
  await tx.select({ id: users.id }).from(users).where(eq(users.id, session.userId)).for('share');
  await tx.insert(sessions).values(session);
}

export async function extendSession(
  tx: RegistryTransaction,
  idHash: string,
  expiresAt: Instant,
): Promise<void> {
  await tx.update(sessions).set({ expiresAt }).where(eq(sessions.idHash, idHash));
}

/** False when it was gone already. */
export async function removeSession(tx: RegistryTransaction, idHash: string): Promise<boolean> {
  const rows = await tx
    .delete(sessions)
    .where(eq(sessions.idHash, idHash))
    .returning({ idHash: sessions.idHash });
  return rows.length === 1;
}

export async function removeSessionsOf(tx: RegistryTransaction, userId: UserId): Promise<void> {
  await tx.delete(sessions).where(eq(sessions.userId, userId));
}

const removedAtOnce = 100;

/** Removes some of what has expired; whoever asks each time a session is opened keeps up. */
export async function removeExpiredSessions(tx: RegistryTransaction, now: Instant): Promise<void> {
  const expired = tx
    .select({ idHash: sessions.idHash })
    .from(sessions)
    .where(lte(sessions.expiresAt, now))
    .limit(removedAtOnce)
    .for('update', { skipLocked: true });
  await tx.delete(sessions).where(inArray(sessions.idHash, expired));
}

/**
 * Counts one more attempt under this key and answers how many it makes in the window that is running. Counted before
 * the password is looked at, so that requests sent at the same time can't all be the first.
 */
export async function takeSignInAttempt(
  tx: RegistryTransaction,
  keyHash: string,
  now: Instant,
  windowEndsAt: Instant,
): Promise<number> {
  const [row] = await tx
    .insert(signInFailures)
    .values({ keyHash, failures: 1, windowEndsAt })
    .onConflictDoUpdate({
      target: signInFailures.keyHash,
      set: {
        failures: sql`case when ${signInFailures.windowEndsAt} <= ${now}::timestamptz then 1 else ${signInFailures.failures} + 1 end`,
        windowEndsAt: sql`case when ${signInFailures.windowEndsAt} <= ${now}::timestamptz then excluded.window_ends_at else ${signInFailures.windowEndsAt} end`,
      },
    })
    .returning({ failures: signInFailures.failures });
  if (row === undefined) throw new Error('an attempt was not counted');
  return row.failures;
}

/** Takes one attempt back: it was right. */
export async function returnSignInAttempt(tx: RegistryTransaction, keyHash: string): Promise<void> {
  await tx
    .update(signInFailures)
    .set({ failures: sql`greatest(${signInFailures.failures} - 1, 0)` })
    .where(eq(signInFailures.keyHash, keyHash));
}

export async function forgetSignInAttempts(tx: RegistryTransaction, keyHash: string): Promise<void> {
  await tx.delete(signInFailures).where(eq(signInFailures.keyHash, keyHash));
}

/** Removes some of the counts whose window is over. */
export async function removeEndedSignInWindows(tx: RegistryTransaction, now: Instant): Promise<void> {
  const ended = tx
    .select({ keyHash: signInFailures.keyHash })
    .from(signInFailures)
    .where(lte(signInFailures.windowEndsAt, now))
    .limit(removedAtOnce)
    .for('update', { skipLocked: true });
  await tx.delete(signInFailures).where(inArray(signInFailures.keyHash, ended));
}
