import type {
  AccountId,
  Day,
  Delegated,
  Instant,
  MembershipId,
  PersonId,
  TenantId,
  UserId,
} from '@grainwright/domain';
import { and, asc, eq, gt, isNull, or, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { businesses, contacts, people, staffMembers } from '../schema/accounts.ts';
import { listCountingDelegations } from './delegations.ts';

/** Who signed in, as the registry knows it: which tenant's which person, and of which account. */
export interface Membership {
  readonly id: MembershipId;
  readonly userId: UserId;
  readonly tenantId: TenantId;
  readonly personId: PersonId;
  readonly accountId: AccountId | null;
}

export type Business = typeof businesses.$inferSelect;

/** The person acting, with the role the tenant's own rows give them now. */
export interface StaffMember {
  readonly personId: PersonId;
  readonly name: string;
  readonly shortName: string;
  readonly role: 'owner' | 'office' | 'technician' | 'bookkeeper';
  /** Whether the owner lets them price by hand; owner and office do by their role. */
  readonly pricesByHand: boolean;
  readonly business: Business;
}
export interface Contact {
  readonly personId: PersonId;
  readonly name: string;
  readonly role: 'approver' | 'payer' | 'viewer';
  readonly limitMinor: bigint | null;
  /** Whom they answer for just now. */
  readonly delegated: readonly Delegated[];
  readonly accountId: AccountId;
  readonly business: Business;
}

/** The staff member, unless they have left by the business's own day at that moment: from `ended_on` on they are out. */
export async function findStaffMember(
  tx: TenantTransaction,
  personId: PersonId,
  now: Instant,
): Promise<StaffMember | null> {
  const [row] = await tx
    .select({
      name: people.name,
      shortName: staffMembers.shortName,
      role: staffMembers.role,
      pricesByHand: staffMembers.pricesByHand,
      business: businesses,
    })
    .from(staffMembers)
    .innerJoin(people, and(eq(people.tenantId, staffMembers.tenantId), eq(people.id, staffMembers.personId)))
    .innerJoin(businesses, eq(businesses.tenantId, staffMembers.tenantId))
    .where(
      and(
        eq(staffMembers.tenantId, tx.tenantId),
        eq(staffMembers.personId, personId),
        or(
          isNull(staffMembers.endedOn),
          sql`${staffMembers.endedOn} > (${now}::timestamptz at time zone ${businesses.timeZone})::date`,
        ),
      ),
    );
  return row === undefined ? null : { personId, ...row };
}

/** The account's contact, unless they have left (from `ended_on` on they are out); the account itself may be closed to new work and still be read. */
export async function findContact(
  tx: TenantTransaction,
  accountId: AccountId,
  personId: PersonId,
  now: Instant,
): Promise<Contact | null> {
  const [row] = await tx
    .select({ name: people.name, role: contacts.role, limitMinor: contacts.limitMinor, business: businesses })
    .from(contacts)
    .innerJoin(people, and(eq(people.tenantId, contacts.tenantId), eq(people.id, contacts.personId)))
    .innerJoin(businesses, eq(businesses.tenantId, contacts.tenantId))
    .where(
      and(
        eq(contacts.tenantId, tx.tenantId),
        eq(contacts.accountId, accountId),
        eq(contacts.personId, personId),
        or(
          isNull(contacts.endedOn),
          sql`${contacts.endedOn} > (${now}::timestamptz at time zone ${businesses.timeZone})::date`,
        ),
      ),
    );
  if (row === undefined) return null;
  const { timeZone } = row.business;
  const delegated = await listCountingDelegations(tx, { accountId, toPersonId: personId }, { now, timeZone });
  return { personId, accountId, delegated, ...row };
}

export interface StaffEnd {
  readonly personId: PersonId;
  readonly endedOn: Day | null;
}

/** One of the staff, also who has left; locked for a change. */
export async function lockStaffMember(tx: TenantTransaction, personId: PersonId): Promise<StaffEnd | null> {
  const [row] = await tx
    .select({ personId: staffMembers.personId, endedOn: staffMembers.endedOn })
    .from(staffMembers)
    .where(and(eq(staffMembers.tenantId, tx.tenantId), eq(staffMembers.personId, personId)))
    .for('update');
  return row ?? null;
}

/** Who owns the business on that day, always in the same order; locked, so that two can't end each other at once. */
export async function lockOwners(tx: TenantTransaction, today: Day): Promise<readonly PersonId[]> {
  const rows = await tx
    .select({ personId: staffMembers.personId })
    .from(staffMembers)
    .where(
      and(
        eq(staffMembers.tenantId, tx.tenantId),
        eq(staffMembers.role, 'owner'),
        or(isNull(staffMembers.endedOn), gt(staffMembers.endedOn, today)),
      ),
    )
    .orderBy(asc(staffMembers.personId))
    .for('update');
  return rows.map((row) => row.personId);
}

/** `endedOn` is the first day on which they are out. */
export async function setStaffEnd(tx: TenantTransaction, { personId, endedOn }: StaffEnd): Promise<void> {
  await tx
    .update(staffMembers)
    .set({ endedOn })
    .where(and(eq(staffMembers.tenantId, tx.tenantId), eq(staffMembers.personId, personId)));
}

export async function setPricesByHand(
  tx: TenantTransaction,
  { personId, pricesByHand }: { readonly personId: PersonId; readonly pricesByHand: boolean },
): Promise<void> {
  await tx
    .update(staffMembers)
    .set({ pricesByHand })
    .where(and(eq(staffMembers.tenantId, tx.tenantId), eq(staffMembers.personId, personId)));
}
