import type { AccountId, Day, PersonId, VisitId } from '@grainwright/domain';
import { and, asc, eq, gt, inArray, isNull, ne, or, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts, contacts, people, sites } from '../schema/accounts.ts';
import { visits } from '../schema/work-orders.ts';

/** A visit as a stop of a technician’s day, with where it is. */
export type StopRow = Awaited<ReturnType<typeof listStops>>[number];

/** The stops of a day in their order, technician by technician; of one technician where that is said. */
export async function listStops(
  tx: TenantTransaction,
  { technicianId, day }: { readonly technicianId?: PersonId | undefined; readonly day: Day },
  rowsMax: number,
) {
  return selectStops(tx)
    .where(
      and(
        eq(visits.tenantId, tx.tenantId),
        eq(visits.day, day),
        technicianId === undefined ? undefined : eq(visits.technicianId, technicianId),
      ),
    )
    .orderBy(asc(people.name), asc(visits.technicianId), asc(visits.position), asc(visits.id))
    .limit(rowsMax);
}

export async function findStop(tx: TenantTransaction, id: VisitId): Promise<StopRow | null> {
  const [row] = await selectStops(tx).where(and(eq(visits.tenantId, tx.tenantId), eq(visits.id, id)));
  return row ?? null;
}

function selectStops(tx: TenantTransaction) {
  return tx
    .select({
      visit: visits,
      account: { id: accounts.id, name: accounts.name, acceptanceRule: accounts.acceptanceRule },
      site: { id: sites.id, name: sites.name, address: sites.address },
      technicianName: people.name,
    })
    .from(visits)
    .innerJoin(accounts, and(eq(accounts.tenantId, visits.tenantId), eq(accounts.id, visits.accountId)))
    .innerJoin(sites, and(eq(sites.tenantId, visits.tenantId), eq(sites.id, visits.siteId)))
    .innerJoin(people, and(eq(people.tenantId, visits.tenantId), eq(people.id, visits.technicianId)));
}

/** Puts stops where they are told to stand in their technician’s day. */
export async function setStopPlaces(
  tx: TenantTransaction,
  places: ReadonlyMap<VisitId, number>,
): Promise<void> {
  if (places.size === 0) return;
  await tx.execute(sql`
    update visits v set position = told.position
    from unnest(${sql.param([...places.keys()])}::uuid[], ${sql.param([...places.values()])}::integer[]) as told (id, position)
    where v.tenant_id = ${tx.tenantId}::uuid and v.id = told.id`);
}

/** False where a vehicle was written up there: then the stop stays. */
export async function deleteEmptyStop(tx: TenantTransaction, id: VisitId): Promise<boolean> {
  const rows = await tx
    .delete(visits)
    .where(
      and(
        eq(visits.tenantId, tx.tenantId),
        eq(visits.id, id),
        sql`not exists (select from work_orders w where w.tenant_id = ${visits.tenantId} and w.visit_id = ${visits.id})`,
      ),
    )
    .returning({ id: visits.id });
  return rows.length === 1;
}

/** Whom to call at an account, by the order in which its people are asked; accounts without a number are left out. */
export async function listPhonesOf(
  tx: TenantTransaction,
  accountIds: readonly AccountId[],
  on: Day,
): Promise<ReadonlyMap<AccountId, { readonly name: string; readonly phone: string }>> {
  if (accountIds.length === 0) return new Map();
  const rows = await tx
    .selectDistinctOn([contacts.accountId], {
      accountId: contacts.accountId,
      name: people.name,
      phone: people.phone,
    })
    .from(contacts)
    .innerJoin(people, and(eq(people.tenantId, contacts.tenantId), eq(people.id, contacts.personId)))
    .where(
      and(
        eq(contacts.tenantId, tx.tenantId),
        inArray(contacts.accountId, [...new Set(accountIds)]),
        or(isNull(contacts.endedOn), gt(contacts.endedOn, on)),
        ne(people.phone, ''),
      ),
    )
    .orderBy(
      asc(contacts.accountId),
      sql`${contacts.role} <> 'approver'`,
      asc(contacts.askPosition),
      asc(people.name),
    );
  return new Map(rows.map(({ accountId, ...whom }) => [accountId, whom]));
}
