import type {
  AccountId,
  Day,
  OwnNumberKind,
  PersonId,
  PhotoId,
  VersionId,
  WorkOrderId,
} from '@grainwright/domain';
import { and, asc, desc, eq, gt, inArray, isNotNull, isNull, ne, or, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts, contacts, people } from '../schema/accounts.ts';
import { shownCopies } from '../schema/coverings.ts';
import { photos } from '../schema/evidence.ts';
import {
  decisionLines,
  decisionSignatures,
  decisions,
  estimateLines,
  estimateVersions,
  vehicles,
  workOrders,
} from '../schema/work-orders.ts';
import { type DecisionSignatureRow, findDecision, type StoredDecision } from './estimates.ts';
import { ofNoWithdrawnLine } from './photos.ts';
import { quotedMinor } from './replacement-quotes.ts';
import type { VehicleRow } from './vehicles.ts';
import type { WorkOrderRow } from './work-order-path.ts';

/** The answer to a version, of which there is at most one. */
export async function findDecisionOfVersion(
  tx: TenantTransaction,
  versionId: VersionId,
): Promise<StoredDecision | null> {
  const [row] = await tx
    .select({ id: decisions.id })
    .from(decisions)
    .where(and(eq(decisions.tenantId, tx.tenantId), eq(decisions.versionId, versionId)));
  return row === undefined ? null : findDecision(tx, row.id);
}

/** The last answer to a work order that said yes to something, of versions but this one; null: there is none. */
export async function findApprovalBefore(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
  versionId: VersionId,
): Promise<StoredDecision | null> {
  const [row] = await tx
    .select({ id: decisions.id })
    .from(decisions)
    .innerJoin(
      estimateVersions,
      and(eq(estimateVersions.tenantId, decisions.tenantId), eq(estimateVersions.id, decisions.versionId)),
    )
    .where(
      and(
        eq(decisions.tenantId, tx.tenantId),
        eq(decisions.workOrderId, workOrderId),
        ne(decisions.versionId, versionId),
        saysYes,
      ),
    )
    .orderBy(desc(estimateVersions.version))
    .limit(1);
  return row === undefined ? null : findDecision(tx, row.id);
}

/** Of work orders that wait for an answer again: the total, with tax, of the last answer that said yes to something. */
export async function listApprovedBefore(
  tx: TenantTransaction,
  workOrderIds: readonly WorkOrderId[],
): Promise<ReadonlyMap<WorkOrderId, bigint>> {
  if (workOrderIds.length === 0) return new Map();
  const rows = await tx
    .select({ workOrderId: decisions.workOrderId, totalMinor: decisions.totalMinor })
    .from(decisions)
    .innerJoin(
      estimateVersions,
      and(eq(estimateVersions.tenantId, decisions.tenantId), eq(estimateVersions.id, decisions.versionId)),
    )
    .where(
      and(eq(decisions.tenantId, tx.tenantId), inArray(decisions.workOrderId, [...workOrderIds]), saysYes),
    )
    .orderBy(asc(estimateVersions.version));
  // Of several answers to one work order the newest stays.
  return new Map(rows.map((row) => [row.workOrderId, row.totalMinor]));
}

const saysYes = sql`exists (select from decision_lines l where l.tenant_id = ${decisions.tenantId}
  and l.decision_id = ${decisions.id} and l.answer = 'approved')`;

/** Whether a person, not a rule, has answered any version of this work order. */
export async function wasAnsweredByPerson(tx: TenantTransaction, workOrderId: WorkOrderId): Promise<boolean> {
  const rows = await tx
    .select({ id: decisions.id })
    .from(decisions)
    .where(
      and(
        eq(decisions.tenantId, tx.tenantId),
        eq(decisions.workOrderId, workOrderId),
        isNotNull(decisions.decidedBy),
      ),
    )
    .limit(1);
  return rows.length === 1;
}

export type DecisionRow = Omit<typeof decisions.$inferSelect, 'tenantId'>;
export type DecisionLineRow = Omit<typeof decisionLines.$inferSelect, 'tenantId' | 'decisionId'>;

/** False when the id is taken, also by a decision that can't be seen from here. */
export async function insertDecision(
  tx: TenantTransaction,
  decision: DecisionRow,
  lines: readonly DecisionLineRow[],
): Promise<boolean> {
  const inserted = await tx
    .insert(decisions)
    .values({ tenantId: tx.tenantId, ...decision })
    .onConflictDoNothing()
    .returning({ id: decisions.id });
  if (inserted.length === 0) return false;
  await tx
    .insert(decisionLines)
    .values(lines.map((line) => ({ tenantId: tx.tenantId, decisionId: decision.id, ...line })));
  return true;
}

/** After the decision itself, in the transaction that made it. */
export async function insertDecisionSignature(
  tx: TenantTransaction,
  signature: Omit<DecisionSignatureRow, 'tenantId'>,
): Promise<void> {
  await tx.insert(decisionSignatures).values({ tenantId: tx.tenantId, ...signature });
}

export interface ApproverRow {
  readonly personId: PersonId;
  readonly name: string;
  /** Null: without a limit. */
  readonly limitMinor: bigint | null;
}

/** The account's people who may say yes, by name; those who have left, today included, are not among them. */
export async function listApproverRows(
  tx: TenantTransaction,
  accountId: AccountId,
  today: Day,
): Promise<readonly ApproverRow[]> {
  return tx
    .select({ personId: contacts.personId, name: people.name, limitMinor: contacts.limitMinor })
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
    .orderBy(asc(people.name), asc(people.id))
    .limit(200);
}

export interface ToApproveRow {
  readonly workOrder: Pick<
    WorkOrderRow,
    'id' | 'number' | 'ownNumber' | 'roNumber' | 'poNumber' | 'holdReason'
  >;
  readonly ownNumberKind: OwnNumberKind | null;
  readonly vehicle: VehicleRow;
  readonly version: Pick<
    typeof estimateVersions.$inferSelect,
    | 'id'
    | 'version'
    | 'currency'
    | 'madeAt'
    | 'expiresOn'
    | 'repairsMinor'
    | 'afterHoursMinor'
    | 'rushMinor'
    | 'taxMinor'
    | 'totalMinor'
  >;
  /** What new parts for all of it were quoted at; null without a quote. */
  readonly quotedMinor: bigint | null;
  /** The picture that shows it best, of those whose copies are made; null while there is none. */
  readonly photoId: PhotoId | null;
  readonly photoCount: number;
  readonly lines: readonly string[];
}

/** What waits for an account's answer, by number, after a number. Bounded by `limit`. */
export async function listToApproveRows(
  tx: TenantTransaction,
  accountId: AccountId,
  page: { readonly after: bigint; readonly limit: number },
): Promise<readonly ToApproveRow[]> {
  const found = await tx
    .select({
      workOrder: {
        id: workOrders.id,
        number: workOrders.number,
        ownNumber: workOrders.ownNumber,
        roNumber: workOrders.roNumber,
        poNumber: workOrders.poNumber,
        holdReason: workOrders.holdReason,
      },
      ownNumberKind: accounts.ownNumberKind,
      vehicle: vehicles,
      version: askedColumns,
      quoted: quotedMinor({
        tenantId: sql`${workOrders.tenantId}`,
        id: sql`${workOrders.id}`,
        decisionId: sql`${workOrders.decisionId}`,
      }),
      photoId: firstPicture,
      photoCount: pictureCount,
    })
    .from(workOrders)
    .innerJoin(
      accounts,
      and(eq(accounts.tenantId, workOrders.tenantId), eq(accounts.id, workOrders.accountId)),
    )
    .innerJoin(
      vehicles,
      and(eq(vehicles.tenantId, workOrders.tenantId), eq(vehicles.id, workOrders.vehicleId)),
    )
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
        eq(workOrders.accountId, accountId),
        eq(workOrders.state, 'awaiting_approval'),
        gt(workOrders.number, page.after),
      ),
    )
    .orderBy(asc(workOrders.number))
    .limit(page.limit);
  const words = await lineWords(
    tx,
    found.map(({ version }) => version.id),
  );
  return found.map(({ quoted, ...row }) => ({
    ...row,
    quotedMinor: quoted === null ? null : BigInt(quoted),
    lines: words.get(row.version.id) ?? [],
  }));
}

/** Of the version that is asked for. */
const askedColumns = {
  id: estimateVersions.id,
  version: estimateVersions.version,
  currency: estimateVersions.currency,
  madeAt: estimateVersions.madeAt,
  expiresOn: estimateVersions.expiresOn,
  repairsMinor: estimateVersions.repairsMinor,
  afterHoursMinor: estimateVersions.afterHoursMinor,
  rushMinor: estimateVersions.rushMinor,
  taxMinor: estimateVersions.taxMinor,
  totalMinor: estimateVersions.totalMinor,
};

const firstPicture = sql<PhotoId | null>`(
  select ${photos.id} from ${photos}
  join ${shownCopies} on ${shownCopies.tenantId} = ${photos.tenantId}
    and ${shownCopies.photoId} = ${photos.id} and ${shownCopies.kind} = 'thumb'
  where ${photos.tenantId} = ${workOrders.tenantId} and ${photos.workOrderId} = ${workOrders.id}
    and ${ofNoWithdrawnLine}
  order by (${photos.purpose} = 'before') desc, ${photos.receivedAt}, ${photos.id} limit 1)`;

const pictureCount = sql<number>`(
  select count(*)::integer from ${photos}
  where ${photos.tenantId} = ${workOrders.tenantId} and ${photos.workOrderId} = ${workOrders.id}
    and ${ofNoWithdrawnLine})`;

async function lineWords(
  tx: TenantTransaction,
  versionIds: readonly VersionId[],
): Promise<ReadonlyMap<VersionId, readonly string[]>> {
  if (versionIds.length === 0) return new Map();
  const rows = await tx
    .select({ versionId: estimateLines.versionId, description: estimateLines.description })
    .from(estimateLines)
    .where(and(eq(estimateLines.tenantId, tx.tenantId), inArray(estimateLines.versionId, [...versionIds])))
    .orderBy(asc(estimateLines.versionId), asc(estimateLines.position));
  const byVersion = Map.groupBy(rows, (row) => row.versionId);
  return new Map([...byVersion].map(([id, of]) => [id, of.map((row) => row.description)]));
}
