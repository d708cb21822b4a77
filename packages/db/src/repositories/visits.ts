import type { AccountId, Day, SiteId, VisitId } from '@grainwright/domain';
import { and, asc, eq, gte, isNull, or, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts, sites } from '../schema/accounts.ts';
import { visits } from '../schema/work-orders.ts';

export type VisitRow = typeof visits.$inferSelect;

/**
 * The visit of this technician to this place on this day, after hours or not, rush or not, made under the given id as
 * the last stop of the day if there is none yet. Null when that id already names another visit.
 */
export async function findOrInsertVisit(
  tx: TenantTransaction,
  visit: Omit<VisitRow, 'tenantId' | 'position'>,
): Promise<VisitRow | null> {
  const last = sql<number>`(select coalesce(max(position), 0) + 1 from visits where tenant_id = ${tx.tenantId}::uuid
    and technician_id = ${visit.technicianId}::uuid and day = ${visit.day}::date)`;
  await tx
    .insert(visits)
    .values({ tenantId: tx.tenantId, ...visit, position: last })
    .onConflictDoNothing();
  const [row] = await tx
    .select()
    .from(visits)
    .where(
      and(
        eq(visits.tenantId, tx.tenantId),
        eq(visits.siteId, visit.siteId),
        eq(visits.technicianId, visit.technicianId),
        eq(visits.day, visit.day),
        eq(visits.afterHours, visit.afterHours),
        eq(visits.rush, visit.rush),
      ),
    );
  return row ?? null;
}

export async function findVisit(tx: TenantTransaction, id: VisitId): Promise<VisitRow | null> {
  const [row] = await tx
    .select()
    .from(visits)
    .where(and(eq(visits.tenantId, tx.tenantId), eq(visits.id, id)));
  return row ?? null;
}

const placeColumns = {
  accountId: accounts.id,
  accountName: accounts.name,
  accountKind: accounts.kind,
  ownNumberKind: accounts.ownNumberKind,
  ownNumberRequired: accounts.ownNumberRequired,
  requiresRo: accounts.requiresRo,
  requiresPo: accounts.requiresPo,
  acceptanceRule: accounts.acceptanceRule,
  walkIn: accounts.walkIn,
  openedOn: accounts.openedOn,
  endedOn: accounts.endedOn,
  siteId: sites.id,
  siteName: sites.name,
  siteAddress: sites.address,
  miles: sites.miles,
};

/** Where vehicles are written up: a site of an account, with what the account asks of a write-up. */
export type PlaceRow = NonNullable<Awaited<ReturnType<typeof findPlace>>>;

/** The account's site; null when there is none such, also where the site is another account's. */
export async function findPlace(tx: TenantTransaction, accountId: AccountId, siteId: SiteId) {
  const [row] = await tx
    .select(placeColumns)
    .from(sites)
    .innerJoin(accounts, and(eq(accounts.tenantId, sites.tenantId), eq(accounts.id, sites.accountId)))
    .where(and(eq(sites.tenantId, tx.tenantId), eq(sites.accountId, accountId), eq(sites.id, siteId)));
  return row ?? null;
}

/** The places of accounts open to new work on a day, by account and site name. */
export async function listPlaces(
  tx: TenantTransaction,
  openOn: Day,
  rowsMax: number,
): Promise<readonly PlaceRow[]> {
  return tx
    .select(placeColumns)
    .from(sites)
    .innerJoin(accounts, and(eq(accounts.tenantId, sites.tenantId), eq(accounts.id, sites.accountId)))
    .where(and(eq(sites.tenantId, tx.tenantId), or(isNull(accounts.endedOn), gte(accounts.endedOn, openOn))))
    .orderBy(asc(accounts.name), asc(sites.name), asc(sites.id))
    .limit(rowsMax);
}
