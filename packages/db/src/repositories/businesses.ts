import type { PersonId } from '@grainwright/domain';
import { and, asc, eq, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { businesses, people, staffMembers } from '../schema/accounts.ts';
import type { Business } from './members.ts';

/** False when the tenant's business is there already. */
export async function insertBusiness(
  tx: TenantTransaction,
  business: Omit<typeof businesses.$inferInsert, 'tenantId'>,
): Promise<boolean> {
  const rows = await tx
    .insert(businesses)
    .values({ tenantId: tx.tenantId, ...business })
    .onConflictDoNothing()
    .returning({ tenantId: businesses.tenantId });
  return rows.length === 1;
}

export async function findBusiness(tx: TenantTransaction): Promise<Business | null> {
  const [row] = await tx.select().from(businesses).where(eq(businesses.tenantId, tx.tenantId));
  return row ?? null;
}

/** The business, locked until the transaction ends, so that nobody changes its settings meanwhile. */
export async function lockBusiness(tx: TenantTransaction): Promise<Business> {
  const [row] = await tx.select().from(businesses).where(eq(businesses.tenantId, tx.tenantId)).for('update');
  if (row === undefined) throw new Error('a tenant without a business');
  return row;
}

/** Writes what may be changed of the business; the rest of it stays. */
export async function updateBusiness(tx: TenantTransaction, business: Business): Promise<void> {
  const { name, address, phone, email, documentNote, estimateValidDays, smallDifferenceMinor } = business;
  const { returnFeeMinor, lateChargePercent, lateChargeGraceDays, writeOffReclaimsTax } = business;
  const { duplicateDays, comebackDays, warrantyDays, certificateWarningDays, acceptanceLinkDays } = business;
  const { acceptanceCopyDays } = business;
  const { pageSize, logoKey, logoMediaType } = business;
  const said = { name, address, phone, email, documentNote, estimateValidDays, smallDifferenceMinor };
  const policies = { returnFeeMinor, lateChargePercent, lateChargeGraceDays, writeOffReclaimsTax };
  const links = { acceptanceLinkDays, acceptanceCopyDays };
  const notices = { duplicateDays, comebackDays, warrantyDays, certificateWarningDays, ...links };
  const paper = { pageSize, logoKey, logoMediaType };
  await tx
    .update(businesses)
    .set({ ...said, ...policies, ...notices, ...paper, settingsRevision: business.settingsRevision })
    .where(eq(businesses.tenantId, tx.tenantId));
}

export type PersonRow = Omit<typeof people.$inferSelect, 'hasEmail'>;

/** False when the id is taken. */
export async function insertPerson(
  tx: TenantTransaction,
  person: Omit<PersonRow, 'tenantId'>,
): Promise<boolean> {
  const rows = await tx
    .insert(people)
    .values({ tenantId: tx.tenantId, ...person })
    .onConflictDoNothing()
    .returning({ id: people.id });
  return rows.length === 1;
}

export async function findPerson(tx: TenantTransaction, id: PersonId): Promise<PersonRow | null> {
  const [row] = await tx
    .select()
    .from(people)
    .where(and(eq(people.tenantId, tx.tenantId), eq(people.id, id)));
  return row ?? null;
}

export type StaffRow = typeof staffMembers.$inferSelect;

/** False when the person is a staff member already. */
export async function insertStaffMember(
  tx: TenantTransaction,
  member: Omit<StaffRow, 'tenantId'>,
): Promise<boolean> {
  const rows = await tx
    .insert(staffMembers)
    .values({ tenantId: tx.tenantId, ...member })
    .onConflictDoNothing()
    .returning({ personId: staffMembers.personId });
  return rows.length === 1;
}

export async function findStaffRow(tx: TenantTransaction, personId: PersonId): Promise<StaffRow | null> {
  const [row] = await tx
    .select()
    .from(staffMembers)
    .where(and(eq(staffMembers.tenantId, tx.tenantId), eq(staffMembers.personId, personId)));
  return row ?? null;
}

export interface StaffListRow extends Omit<StaffRow, 'tenantId'> {
  readonly name: string;
  readonly email: string;
  readonly phone: string;
}

/** Everybody who works or worked for the business, those still there first. */
export async function listStaffRows(tx: TenantTransaction, limit: number): Promise<readonly StaffListRow[]> {
  return tx
    .select({
      personId: staffMembers.personId,
      role: staffMembers.role,
      shortName: staffMembers.shortName,
      endedOn: staffMembers.endedOn,
      pricesByHand: staffMembers.pricesByHand,
      name: people.name,
      email: people.email,
      phone: people.phone,
    })
    .from(staffMembers)
    .innerJoin(people, and(eq(people.tenantId, staffMembers.tenantId), eq(people.id, staffMembers.personId)))
    .where(eq(staffMembers.tenantId, tx.tenantId))
    .orderBy(sql`${staffMembers.endedOn} desc nulls first`, asc(people.name), asc(people.id))
    .limit(limit);
}
