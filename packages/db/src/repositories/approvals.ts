import type {
  AccountId,
  Day,
  PassedOnId,
  PersonId,
  VersionId,
  VisitId,
  WorkOrderId,
} from '@grainwright/domain';
import { and, asc, desc, eq, exists, gt, inArray, isNull, or, sql } from 'drizzle-orm';
import { alias } from 'drizzle-orm/pg-core';
import type { TenantTransaction } from '../database.ts';
import { contacts, people } from '../schema/accounts.ts';
import { approvalAsks, passedOnAnswers } from '../schema/approvals.ts';
import { workOrders } from '../schema/work-orders.ts';

export type ApprovalAskRow = typeof approvalAsks.$inferSelect;
export type PassedOnRow = typeof passedOnAnswers.$inferSelect;

/** An approver as whoever may be asked. */
export interface AskableApproverRow {
  readonly personId: PersonId;
  readonly name: string;
  readonly limitMinor: bigint | null;
  readonly askPosition: number;
  readonly hasEmail: boolean;
}

const perAccountMax = 300;

/** The account's approvers in the order in which they are asked; whoever has left by that day is not among them. */
export function listAskableApprovers(
  tx: TenantTransaction,
  accountId: AccountId,
  today: Day,
): Promise<readonly AskableApproverRow[]> {
  return tx
    .select({
      personId: contacts.personId,
      name: people.name,
      limitMinor: contacts.limitMinor,
      askPosition: contacts.askPosition,
      hasEmail: people.hasEmail,
    })
    .from(contacts)
    .innerJoin(people, and(eq(people.tenantId, contacts.tenantId), eq(people.id, contacts.personId)))
    .where(
      and(
        eq(contacts.tenantId, tx.tenantId),
        eq(contacts.accountId, accountId),
        eq(contacts.role, 'approver'),
        or(isNull(contacts.endedOn), gt(contacts.endedOn, today)),
      ),
    )
    .orderBy(asc(contacts.askPosition), asc(contacts.personId))
    .limit(perAccountMax);
}

/** Where mail reaches these people, by person; the staff's to know. */
export async function listEmailsOf(
  tx: TenantTransaction,
  ids: readonly PersonId[],
): Promise<ReadonlyMap<PersonId, string>> {
  if (ids.length === 0) return new Map();
  const rows = await tx
    .select({ id: people.id, email: people.email })
    .from(people)
    .where(and(eq(people.tenantId, tx.tenantId), inArray(people.id, [...ids])));
  return new Map(rows.map(({ id, email }) => [id, email]));
}

/** Where the next contact of an account stands in the order of asking: after everybody. */
export function lastAskPosition(tx: TenantTransaction, accountId: AccountId) {
  return sql<number>`(select coalesce(max(ask_position), 0) + 1 from contacts
    where tenant_id = ${tx.tenantId}::uuid and account_id = ${accountId}::uuid)`;
}

export async function setAskPosition(
  tx: TenantTransaction,
  { accountId, personId, position }: { accountId: AccountId; personId: PersonId; position: number },
): Promise<void> {
  await tx
    .update(contacts)
    .set({ askPosition: position })
    .where(
      and(
        eq(contacts.tenantId, tx.tenantId),
        eq(contacts.accountId, accountId),
        eq(contacts.personId, personId),
      ),
    );
}

/** In the transaction that queued its mail. */
export async function insertApprovalAsk(
  tx: TenantTransaction,
  ask: Omit<ApprovalAskRow, 'tenantId'>,
): Promise<void> {
  await tx.insert(approvalAsks).values({ ...ask, tenantId: tx.tenantId });
}

/** Of these versions, those that somebody was asked about already when they were sent. */
export async function listVersionsAsked(
  tx: TenantTransaction,
  versionIds: readonly VersionId[],
): Promise<ReadonlySet<VersionId>> {
  if (versionIds.length === 0) return new Set();
  const rows = await tx
    .selectDistinct({ versionId: approvalAsks.versionId })
    .from(approvalAsks)
    .where(
      and(
        eq(approvalAsks.tenantId, tx.tenantId),
        inArray(approvalAsks.versionId, [...versionIds]),
        inArray(approvalAsks.why, ['first', 'above_limit', 'delegate']),
      ),
    );
  return new Set(rows.map((row) => row.versionId));
}

export interface ShownAskRow
  extends Pick<ApprovalAskRow, 'id' | 'versionId' | 'personId' | 'why' | 'passedOnId' | 'askedAt'> {
  readonly personName: string;
}

/** Who was asked about a work order, oldest first: what its account may read as well. */
export function listApprovalAsks(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
): Promise<readonly ShownAskRow[]> {
  const { id, versionId, personId, why, passedOnId, askedAt } = approvalAsks;
  return tx
    .select({ id, versionId, personId, why, passedOnId, askedAt, personName: people.name })
    .from(approvalAsks)
    .innerJoin(people, and(eq(people.tenantId, approvalAsks.tenantId), eq(people.id, personId)))
    .where(and(eq(approvalAsks.tenantId, tx.tenantId), eq(approvalAsks.workOrderId, workOrderId)))
    .orderBy(asc(askedAt), asc(id))
    .limit(perAccountMax);
}

/** The work orders of a visit that this person was ever asked about, by number. */
export async function listAskedWorkOrders(
  tx: TenantTransaction,
  { visitId, personId }: { readonly visitId: VisitId; readonly personId: PersonId },
): Promise<readonly WorkOrderId[]> {
  const asked = tx
    .select({ one: sql`1` })
    .from(approvalAsks)
    .where(
      and(
        eq(approvalAsks.tenantId, workOrders.tenantId),
        eq(approvalAsks.workOrderId, workOrders.id),
        eq(approvalAsks.personId, personId),
      ),
    );
  const rows = await tx
    .select({ id: workOrders.id })
    .from(workOrders)
    .where(and(eq(workOrders.tenantId, tx.tenantId), eq(workOrders.visitId, visitId), exists(asked)))
    .orderBy(asc(workOrders.number))
    .limit(perAccountMax);
  return rows.map((row) => row.id);
}

/** False when the id is taken, or this person has passed this version on before. */
export async function insertPassedOn(
  tx: TenantTransaction,
  passed: Omit<PassedOnRow, 'tenantId'>,
): Promise<boolean> {
  const rows = await tx
    .insert(passedOnAnswers)
    .values({ ...passed, tenantId: tx.tenantId })
    .onConflictDoNothing()
    .returning({ id: passedOnAnswers.id });
  return rows.length === 1;
}

export interface ShownPassedOnRow extends PassedOnRow {
  readonly passedByName: string;
  /** Null where nobody could be asked. */
  readonly passedToName: string | null;
}

const passer = alias(people, 'passer');
const receiver = alias(people, 'receiver');

function selectPassedOn(tx: TenantTransaction) {
  return tx
    .select({ passed: passedOnAnswers, passedByName: passer.name, passedToName: receiver.name })
    .from(passedOnAnswers)
    .innerJoin(
      passer,
      and(eq(passer.tenantId, passedOnAnswers.tenantId), eq(passer.id, passedOnAnswers.passedBy)),
    )
    .leftJoin(
      receiver,
      and(eq(receiver.tenantId, passedOnAnswers.tenantId), eq(receiver.id, passedOnAnswers.passedTo)),
    );
}

export async function findPassedOn(tx: TenantTransaction, id: PassedOnId): Promise<ShownPassedOnRow | null> {
  const [row] = await selectPassedOn(tx).where(
    and(eq(passedOnAnswers.tenantId, tx.tenantId), eq(passedOnAnswers.id, id)),
  );
  return row === undefined ? null : shownPassedOn(row);
}

/** What was passed on of a version, the latest first. */
export async function listPassedOn(
  tx: TenantTransaction,
  versionId: VersionId,
): Promise<readonly ShownPassedOnRow[]> {
  const rows = await selectPassedOn(tx)
    .where(and(eq(passedOnAnswers.tenantId, tx.tenantId), eq(passedOnAnswers.versionId, versionId)))
    .orderBy(desc(passedOnAnswers.passedAt), desc(passedOnAnswers.id))
    .limit(perAccountMax);
  return rows.map(shownPassedOn);
}

function shownPassedOn({
  passed,
  ...names
}: {
  readonly passed: PassedOnRow;
  readonly passedByName: string;
  readonly passedToName: string | null;
}): ShownPassedOnRow {
  return { ...passed, ...names };
}

/** One question with all of it, for the staff; null: there is none. */
export async function findApprovalAsk(
  tx: TenantTransaction,
  id: ApprovalAskRow['id'],
): Promise<ApprovalAskRow | null> {
  const [row] = await tx
    .select()
    .from(approvalAsks)
    .where(and(eq(approvalAsks.tenantId, tx.tenantId), eq(approvalAsks.id, id)));
  return row ?? null;
}

/** Whether the mail about this passed-on answer went out. */
export async function wasPassedOnMailed(tx: TenantTransaction, passedOnId: PassedOnId): Promise<boolean> {
  const rows = await tx
    .select({ id: approvalAsks.id })
    .from(approvalAsks)
    .where(and(eq(approvalAsks.tenantId, tx.tenantId), eq(approvalAsks.passedOnId, passedOnId)));
  return rows.length > 0;
}

/** Who was asked about a version, each once. */
export async function listPeopleAsked(
  tx: TenantTransaction,
  versionId: VersionId,
): Promise<readonly PersonId[]> {
  const rows = await tx
    .selectDistinct({ personId: approvalAsks.personId })
    .from(approvalAsks)
    .where(and(eq(approvalAsks.tenantId, tx.tenantId), eq(approvalAsks.versionId, versionId)));
  return rows.map((row) => row.personId);
}
