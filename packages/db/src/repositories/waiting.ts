import {
  type AccessLinkId,
  type AccountId,
  type Day,
  type Instant,
  instant,
  type PersonId,
  toId,
  type VersionId,
  type VisitId,
  type WorkOrderId,
} from '@grainwright/domain';
import { and, asc, eq, gt, inArray, isNull, lt, or, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts, contacts, people } from '../schema/accounts.ts';
import { approvalReminders, numbersChased } from '../schema/waiting.ts';
import { decisions, estimateVersions, visits, workOrders } from '../schema/work-orders.ts';
import { numberMissing } from './work-order-list.ts';

/** Work orders whose estimate nobody answered until its last day, the longest waiting first. */
export async function listUnansweredEstimates(
  tx: TenantTransaction,
  today: Day,
  limit: number,
): Promise<readonly { readonly workOrderId: WorkOrderId; readonly madeBy: PersonId }[]> {
  return tx
    .select({ workOrderId: workOrders.id, madeBy: estimateVersions.madeBy })
    .from(workOrders)
    .innerJoin(
      estimateVersions,
      and(
        eq(estimateVersions.tenantId, workOrders.tenantId),
        eq(estimateVersions.id, workOrders.currentVersionId),
      ),
    )
    .where(
      and(
        eq(workOrders.tenantId, tx.tenantId),
        eq(workOrders.state, 'awaiting_approval'),
        lt(estimateVersions.expiresOn, today),
      ),
    )
    .orderBy(asc(estimateVersions.expiresOn), asc(workOrders.number))
    .limit(limit);
}

/** Somebody who was asked about a version, is due to be asked once more, and by which link. */
export interface DueReminder {
  readonly accountId: AccountId;
  readonly visitId: VisitId;
  readonly workOrderId: WorkOrderId;
  readonly versionId: VersionId;
  readonly personId: PersonId;
  readonly askedBy: PersonId;
  readonly linkId: AccessLinkId;
  readonly linkExpiresAt: Instant;
  /** 1 or 2. */
  readonly number: number;
}

/**
 * Who was asked and has waited for as long as the account chose since they were asked, or reminded, last: of versions
 * that can still be answered, by people who are still there and by a link that still opens. By visit and person.
 */
export async function listDueReminders(
  tx: TenantTransaction,
  { now, today, limit }: { readonly now: Instant; readonly today: Day; readonly limit: number },
): Promise<readonly DueReminder[]> {
  const rows = await tx.execute<Record<string, string> & { number: number }>(sql`
    with asked as (
      select distinct on (a.version_id, a.person_id) a.*, w.visit_id, w.number as work_order, c.remind_after_hours
      from work_orders w
      join accounts c on c.tenant_id = w.tenant_id and c.id = w.account_id
      join estimate_versions v on v.tenant_id = w.tenant_id and v.id = w.current_version_id
      join approval_asks a on a.tenant_id = w.tenant_id and a.version_id = v.id
      where w.tenant_id = ${tx.tenantId} and w.state = 'awaiting_approval' and v.expires_on >= ${today}::date
        and c.remind_after_hours is not null
      order by a.version_id, a.person_id, a.asked_at desc, a.id desc)
    select asked.*, l.expires_at, r.times + 1 as number
    from asked
    join access_links l on l.tenant_id = asked.tenant_id and l.id = asked.link_id
    join contacts k on k.tenant_id = asked.tenant_id and k.account_id = asked.account_id and k.person_id = asked.person_id
    cross join lateral (
      select count(*)::integer as times, max(reminded_at) as last from approval_reminders r
      where r.tenant_id = asked.tenant_id and r.version_id = asked.version_id and r.person_id = asked.person_id) r
    where l.revoked_at is null and l.expires_at > ${now}::timestamptz
      and (k.ended_on is null or k.ended_on > ${today}::date) and r.times < 2
      and greatest(asked.asked_at, r.last) + asked.remind_after_hours * interval '1 hour' <= ${now}::timestamptz
    order by asked.visit_id, asked.person_id, asked.work_order
    limit ${limit}`);
  return rows.map((row) => ({
    accountId: toId<AccountId>(row.account_id ?? ''),
    visitId: toId<VisitId>(row.visit_id ?? ''),
    workOrderId: toId<WorkOrderId>(row.work_order_id ?? ''),
    versionId: toId<VersionId>(row.version_id ?? ''),
    personId: toId<PersonId>(row.person_id ?? ''),
    askedBy: toId<PersonId>(row.asked_by ?? ''),
    linkId: toId<AccessLinkId>(row.link_id ?? ''),
    linkExpiresAt: instant((row.expires_at ?? '').replace(' ', 'T')),
    number: row.number,
  }));
}

/** False when it was sent already. */
export async function insertReminder(
  tx: TenantTransaction,
  reminder: Omit<typeof approvalReminders.$inferSelect, 'tenantId'>,
): Promise<boolean> {
  const rows = await tx
    .insert(approvalReminders)
    .values({ ...reminder, tenantId: tx.tenantId })
    .onConflictDoNothing()
    .returning({ id: approvalReminders.id });
  return rows.length === 1;
}

/**
 * A version that waits, one of whose people is away: its visit, by which all of it are looked at together. Only where
 * their delegate was not asked yet and mail can reach them.
 */
export async function listVisitsToAskDelegates(
  tx: TenantTransaction,
  today: Day,
  limit: number,
): Promise<readonly { readonly workOrderId: WorkOrderId; readonly madeBy: PersonId }[]> {
  const rows = await tx.execute<{ work_order_id: string; made_by: string }>(sql`
    select distinct on (w.visit_id) w.id as work_order_id, v.made_by
    from approval_delegations g
    join people p on p.tenant_id = g.tenant_id and p.id = g.to_person and p.has_email
    join approval_asks a on a.tenant_id = g.tenant_id and a.account_id = g.account_id and a.person_id = g.from_person
    join work_orders w on w.tenant_id = a.tenant_id and w.id = a.work_order_id and w.current_version_id = a.version_id
    join estimate_versions v on v.tenant_id = a.tenant_id and v.id = a.version_id
    where g.tenant_id = ${tx.tenantId} and ${today}::date between g.valid_from and g.valid_to
      and w.state = 'awaiting_approval' and v.expires_on >= ${today}::date
      and not exists (select from approval_delegation_ends e where e.tenant_id = g.tenant_id and e.delegation_id = g.id)
      and not exists (select from contacts k where k.tenant_id = g.tenant_id and k.account_id = g.account_id
        and k.person_id in (g.from_person, g.to_person) and k.ended_on <= ${today}::date)
      and not exists (select from approval_asks o where o.tenant_id = a.tenant_id and o.version_id = a.version_id
        and o.person_id = g.to_person)
    order by w.visit_id, w.number
    limit ${limit}`);
  return rows.map((row) => ({
    workOrderId: toId<WorkOrderId>(row.work_order_id),
    madeBy: toId<PersonId>(row.made_by),
  }));
}

/** Finished work that lacks numbers, and who answered for it; null where a rule did. */
export interface WorkToChase {
  readonly workOrderId: WorkOrderId;
  readonly accountId: AccountId;
  readonly technicianId: PersonId;
  readonly decidedBy: PersonId | null;
}

/**
 * Work that was finished before today, lacks a number that its account wants, and may be asked about today: not asked
 * about yet today, and on fewer days than `daysMax`. By account and number.
 */
export async function listWorkToChase(
  tx: TenantTransaction,
  {
    today,
    timeZone,
    daysMax,
    limit,
  }: {
    readonly today: Day;
    readonly timeZone: string;
    readonly daysMax: number;
    readonly limit: number;
  },
): Promise<readonly WorkToChase[]> {
  return tx
    .select({
      workOrderId: workOrders.id,
      accountId: workOrders.accountId,
      technicianId: visits.technicianId,
      decidedBy: decisions.decidedBy,
    })
    .from(workOrders)
    .innerJoin(
      accounts,
      and(eq(accounts.tenantId, workOrders.tenantId), eq(accounts.id, workOrders.accountId)),
    )
    .innerJoin(visits, and(eq(visits.tenantId, workOrders.tenantId), eq(visits.id, workOrders.visitId)))
    .leftJoin(
      decisions,
      and(eq(decisions.tenantId, workOrders.tenantId), eq(decisions.id, workOrders.decisionId)),
    )
    .where(
      and(
        eq(workOrders.tenantId, tx.tenantId),
        inArray(workOrders.state, ['done', 'accepted']),
        isNull(workOrders.reworkOfId),
        numberMissing,
        sql`exists (select from work_order_steps s where s.tenant_id = ${workOrders.tenantId}
          and s.work_order_id = ${workOrders.id} and s.event = 'finished'
          and (s.happened_at at time zone ${timeZone})::date < ${today}::date)`,
        sql`(select count(distinct n.chased_on) < ${daysMax} and coalesce(max(n.chased_on) < ${today}::date, true)
          from numbers_chased n where n.tenant_id = ${workOrders.tenantId} and n.work_order_id = ${workOrders.id})`,
      ),
    )
    .orderBy(asc(workOrders.accountId), asc(workOrders.number))
    .limit(limit);
}

/** False when they were asked about it today already. */
export async function insertNumbersChased(
  tx: TenantTransaction,
  chased: Omit<typeof numbersChased.$inferSelect, 'tenantId'>,
): Promise<boolean> {
  const rows = await tx
    .insert(numbersChased)
    .values({ ...chased, tenantId: tx.tenantId })
    .onConflictDoNothing()
    .returning({ id: numbersChased.id });
  return rows.length === 1;
}

/** The work orders whose numbers this person was ever asked for by mail; the account may read it too. */
export async function listWorkChasedFrom(
  tx: TenantTransaction,
  { accountId, personId }: { readonly accountId: AccountId; readonly personId: PersonId },
): Promise<readonly WorkOrderId[]> {
  const rows = await tx
    .selectDistinct({ id: numbersChased.workOrderId })
    .from(numbersChased)
    .where(
      and(
        eq(numbersChased.tenantId, tx.tenantId),
        eq(numbersChased.accountId, accountId),
        eq(numbersChased.personId, personId),
      ),
    );
  return rows.map(({ id }) => id);
}

/** On which days who was asked for the numbers of a work order, the earliest first; the staff's to know. */
export async function listNumbersChased(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
): Promise<readonly { readonly on: Day; readonly name: string }[]> {
  return tx
    .select({ on: numbersChased.chasedOn, name: people.name })
    .from(numbersChased)
    .innerJoin(
      people,
      and(eq(people.tenantId, numbersChased.tenantId), eq(people.id, numbersChased.personId)),
    )
    .where(and(eq(numbersChased.tenantId, tx.tenantId), eq(numbersChased.workOrderId, workOrderId)))
    .orderBy(asc(numbersChased.chasedOn), asc(people.name))
    .limit(100);
}

/** Somebody of an account who can be asked for its numbers by mail. */
export interface NumbersPerson {
  readonly personId: PersonId;
  readonly name: string;
  readonly role: 'approver' | 'payer' | 'viewer';
  readonly email: string;
}

/**
 * Who of an account mail reaches and who was not written to about numbers today, approvers in the order in which they
 * are asked.
 */
export async function listNumbersPeople(
  tx: TenantTransaction,
  accountId: AccountId,
  today: Day,
): Promise<readonly NumbersPerson[]> {
  return tx
    .select({ personId: contacts.personId, name: people.name, role: contacts.role, email: people.email })
    .from(contacts)
    .innerJoin(people, and(eq(people.tenantId, contacts.tenantId), eq(people.id, contacts.personId)))
    .where(
      and(
        eq(contacts.tenantId, tx.tenantId),
        eq(contacts.accountId, accountId),
        or(isNull(contacts.endedOn), gt(contacts.endedOn, today)),
        sql`${people}.has_email`,
        sql`not exists (select from numbers_chased n where n.tenant_id = ${contacts.tenantId}
          and n.account_id = ${contacts.accountId} and n.person_id = ${contacts.personId} and n.chased_on = ${today}::date)`,
      ),
    )
    .orderBy(asc(contacts.askPosition), asc(contacts.personId))
    .limit(200);
}
