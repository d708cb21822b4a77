import type { Instant, PersonId } from '@grainwright/domain';
import { and, desc, eq, getTableColumns, gt, inArray, or, type SQL, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { people } from '../schema/accounts.ts';
import { auditRecords } from '../schema/audit.ts';
import { messages } from '../schema/messages.ts';
import { decisions, vehicles, visits, workOrderSteps, workOrders } from '../schema/work-orders.ts';

/** Of whose visits, after which moment, and at most how much. */
export interface NewsAsked {
  readonly technicianId: PersonId;
  readonly since: Instant;
  readonly limit: number;
}

/** Steps of these kinds that others took on the work orders of a technician's visits, the latest first. */
export async function listStepNews(
  tx: TenantTransaction,
  { technicianId, since, limit }: NewsAsked,
  events: readonly string[],
) {
  return (
    tx
      .select({
        id: workOrderSteps.id,
        at: workOrderSteps.happenedAt,
        event: workOrderSteps.event,
        note: workOrderSteps.note,
        byName: people.name,
        totalMinor: decisions.totalMinor,
        ...ofWorkOrder,
      })
      .from(workOrderSteps)
      .innerJoin(
        workOrders,
        and(eq(workOrders.tenantId, workOrderSteps.tenantId), eq(workOrders.id, workOrderSteps.workOrderId)),
      )
      .innerJoin(visits, and(eq(visits.tenantId, workOrders.tenantId), eq(visits.id, workOrders.visitId)))
      .innerJoin(
        vehicles,
        and(eq(vehicles.tenantId, workOrders.tenantId), eq(vehicles.id, workOrders.vehicleId)),
      )
      .leftJoin(
        people,
        and(eq(people.tenantId, workOrderSteps.tenantId), eq(people.id, workOrderSteps.personId)),
      )
      // An answer and the step it leads to are of one moment.
      .leftJoin(
        decisions,
        and(
          eq(decisions.tenantId, workOrderSteps.tenantId),
          eq(decisions.workOrderId, workOrderSteps.workOrderId),
          eq(decisions.decidedAt, workOrderSteps.happenedAt),
        ),
      )
      .where(
        and(
          eq(workOrderSteps.tenantId, tx.tenantId),
          gt(workOrderSteps.happenedAt, since),
          inArray(workOrderSteps.event, [...events]),
          eq(visits.technicianId, technicianId),
          // What lapsed is on record under whoever had sent it, and is news to them.
          or(byAnother(workOrderSteps.personId, technicianId), eq(workOrderSteps.event, 'lapsed')),
        ),
      )
      .orderBy(desc(workOrderSteps.happenedAt), desc(workOrderSteps.id))
      .limit(limit)
  );
}

/** Numbers that an account gave for the work orders of a technician's visits, the latest first. */
export async function listNumberNews(tx: TenantTransaction, { technicianId, since, limit }: NewsAsked) {
  return tx
    .select({ id: auditRecords.id, at: auditRecords.at, byName: people.name, ...ofWorkOrder })
    .from(auditRecords)
    .innerJoin(
      workOrders,
      and(eq(workOrders.tenantId, auditRecords.tenantId), eq(workOrders.id, auditRecords.subjectId)),
    )
    .innerJoin(visits, and(eq(visits.tenantId, workOrders.tenantId), eq(visits.id, workOrders.visitId)))
    .innerJoin(
      vehicles,
      and(eq(vehicles.tenantId, workOrders.tenantId), eq(vehicles.id, workOrders.vehicleId)),
    )
    .leftJoin(people, and(eq(people.tenantId, auditRecords.tenantId), eq(people.id, auditRecords.personId)))
    .where(
      and(
        eq(auditRecords.tenantId, tx.tenantId),
        eq(auditRecords.action, 'numbers_given'),
        gt(auditRecords.at, since),
        eq(visits.technicianId, technicianId),
        byAnother(auditRecords.personId, technicianId),
      ),
    )
    .orderBy(desc(auditRecords.at), desc(auditRecords.id))
    .limit(limit);
}

/** What accounts wrote about the work orders of a technician's visits, the latest first. */
export async function listMessageNews(tx: TenantTransaction, { technicianId, since, limit }: NewsAsked) {
  return tx
    .select({ id: messages.id, at: messages.writtenAt, byName: people.name, ...ofWorkOrder })
    .from(messages)
    .innerJoin(
      workOrders,
      and(eq(workOrders.tenantId, messages.tenantId), eq(workOrders.id, messages.workOrderId)),
    )
    .innerJoin(visits, and(eq(visits.tenantId, workOrders.tenantId), eq(visits.id, workOrders.visitId)))
    .innerJoin(
      vehicles,
      and(eq(vehicles.tenantId, workOrders.tenantId), eq(vehicles.id, workOrders.vehicleId)),
    )
    .innerJoin(people, and(eq(people.tenantId, messages.tenantId), eq(people.id, messages.authorId)))
    .where(
      and(
        eq(messages.tenantId, tx.tenantId),
        eq(messages.side, 'account'),
        gt(messages.writtenAt, since),
        eq(visits.technicianId, technicianId),
      ),
    )
    .orderBy(desc(messages.writtenAt), desc(messages.id))
    .limit(limit);
}

/** Somebody else of ours, or a vehicle's owner, who is nobody of ours. */
function byAnother(
  personId: typeof workOrderSteps.personId | typeof auditRecords.personId,
  technicianId: PersonId,
): SQL {
  return sql`${personId} is distinct from ${technicianId}`;
}

const ofWorkOrder = {
  workOrderId: workOrders.id,
  number: workOrders.number,
  ownNumber: workOrders.ownNumber,
  roNumber: workOrders.roNumber,
  poNumber: workOrders.poNumber,
  vehicle: getTableColumns(vehicles),
} as const;
