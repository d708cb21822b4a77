import type { Day, SealKind, WorkOrderId } from '@grainwright/domain';
import { and, asc, count, desc, eq, gt, gte, isNull, lt, lte, ne, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { chainHeads, sealDays, sealRequests, seals } from '../schema/seals.ts';

export type SealRow = Omit<typeof seals.$inferSelect, 'tenantId'>;
export type SealRequestRow = Omit<typeof sealRequests.$inferSelect, 'tenantId' | 'sealNumber'>;
export type SealDayRow = Omit<typeof sealDays.$inferSelect, 'tenantId'>;
export type Chain = (typeof chainHeads.$inferSelect)['chain'];

/** The newest link of a chain; number 0 and null while it has none. */
export interface ChainHead {
  readonly number: number;
  readonly sha256: string | null;
}

/** Locks the end of a chain until the transaction is over: whoever comes next waits, and then sees what was added. */
export async function lockChain(tx: TenantTransaction, chain: Chain): Promise<ChainHead> {
  const [head] = await tx.execute<{ number: string; sha256: string | null }>(
    sql`select number, sha256 from lock_chain(${chain})`,
  );
  if (head === undefined) throw new Error(`the chain ${chain} has no head`);
  return { number: Number(head.number), sha256: head.sha256 };
}

export async function listChainHeads(tx: TenantTransaction): Promise<ReadonlyMap<Chain, ChainHead>> {
  const rows = await tx.select().from(chainHeads).where(eq(chainHeads.tenantId, tx.tenantId));
  return new Map(rows.map(({ chain, number, sha256 }) => [chain, { number, sha256 }]));
}

const requestColumns = {
  kind: sealRequests.kind,
  subjectId: sealRequests.subjectId,
  workOrderId: sealRequests.workOrderId,
  accountId: sealRequests.accountId,
  happenedAt: sealRequests.happenedAt,
};

/** What waits for its seal, in the order in which it happened. */
export function listWaitingForSeal(tx: TenantTransaction, limit: number): Promise<readonly SealRequestRow[]> {
  return tx
    .select(requestColumns)
    .from(sealRequests)
    .where(and(eq(sealRequests.tenantId, tx.tenantId), isNull(sealRequests.sealNumber)))
    .orderBy(asc(sealRequests.happenedAt), asc(sealRequests.kind), asc(sealRequests.subjectId))
    .limit(limit);
}

export async function findSealRequest(
  tx: TenantTransaction,
  { kind, subjectId }: SealSubject,
): Promise<SealRequestRow | null> {
  const [row] = await tx
    .select(requestColumns)
    .from(sealRequests)
    .where(
      and(
        eq(sealRequests.tenantId, tx.tenantId),
        eq(sealRequests.kind, kind),
        eq(sealRequests.subjectId, subjectId),
      ),
    );
  return row ?? null;
}

export async function countWaitingForSeal(tx: TenantTransaction): Promise<number> {
  const [row] = await tx
    .select({ waiting: count() })
    .from(sealRequests)
    .where(and(eq(sealRequests.tenantId, tx.tenantId), isNull(sealRequests.sealNumber)));
  return row?.waiting ?? 0;
}

/** At the end of the chain, or not at all: the database refuses a seal that follows another one than the last. */
export async function insertSeal(tx: TenantTransaction, seal: SealRow): Promise<void> {
  await tx.insert(seals).values({ tenantId: tx.tenantId, ...seal });
}

/** As `insertSeal`, for a day. */
export async function insertSealDay(tx: TenantTransaction, closed: SealDayRow): Promise<void> {
  await tx.insert(sealDays).values({ tenantId: tx.tenantId, ...closed, leaves: [...closed.leaves] });
}

/** The columns that everybody who sees a seal may read. */
const shownSeal = {
  number: seals.number,
  kind: seals.kind,
  subjectId: seals.subjectId,
  workOrderId: seals.workOrderId,
  accountId: seals.accountId,
  happenedAt: seals.happenedAt,
  sealedAt: seals.sealedAt,
  sealedOn: seals.sealedOn,
  previous: seals.previous,
  text: seals.text,
  sha256: seals.sha256,
  content: seals.content,
  contentSha256: seals.contentSha256,
  keyId: seals.keyId,
  signature: seals.signature,
};

export type ShownSeal = Omit<SealRow, 'withheld'>;

const perWorkOrderMax = 500;

/** The seals of a work order, the oldest first. */
export function listSealsOfWorkOrder(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
): Promise<readonly ShownSeal[]> {
  return tx
    .select(shownSeal)
    .from(seals)
    .where(and(eq(seals.tenantId, tx.tenantId), eq(seals.workOrderId, workOrderId)))
    .orderBy(asc(seals.number))
    .limit(perWorkOrderMax);
}

/** The seals of a span of days but those of keys, the newest first; an account’s role sees its own. */
export function listSealsBetween(
  tx: TenantTransaction,
  { from, to, limit }: { readonly from: Day; readonly to: Day; readonly limit: number },
): Promise<readonly ShownSeal[]> {
  return tx
    .select(shownSeal)
    .from(seals)
    .where(
      and(
        eq(seals.tenantId, tx.tenantId),
        gte(seals.sealedOn, from),
        lte(seals.sealedOn, to),
        ne(seals.kind, 'key'),
      ),
    )
    .orderBy(desc(seals.number))
    .limit(limit);
}

export interface SealSubject {
  readonly kind: SealKind;
  readonly subjectId: string;
}

/** The seal of one record; null while it waits for it. */
export async function findSealOf(
  tx: TenantTransaction,
  { kind, subjectId }: SealSubject,
): Promise<ShownSeal | null> {
  const [row] = await tx
    .select(shownSeal)
    .from(seals)
    .where(and(eq(seals.tenantId, tx.tenantId), eq(seals.kind, kind), eq(seals.subjectId, subjectId)));
  return row ?? null;
}

/** All seals by which keys followed each other. */
export function listKeySeals(tx: TenantTransaction): Promise<readonly ShownSeal[]> {
  return tx
    .select(shownSeal)
    .from(seals)
    .where(and(eq(seals.tenantId, tx.tenantId), eq(seals.kind, 'key')))
    .orderBy(asc(seals.number))
    .limit(perWorkOrderMax);
}

/** Whole seals behind a number, in their order, with what the staff alone may show: for whoever checks the chain. */
export async function listSealsAfter(
  tx: TenantTransaction,
  after: number,
  limit: number,
): Promise<readonly SealRow[]> {
  const rows = await tx
    .select()
    .from(seals)
    .where(and(eq(seals.tenantId, tx.tenantId), gt(seals.number, after)))
    .orderBy(asc(seals.number))
    .limit(limit);
  return rows.map(({ tenantId: _tenantId, ...row }) => row);
}

/** When the newest seal was put; null before the first. */
export async function findLastSeal(
  tx: TenantTransaction,
): Promise<Pick<SealRow, 'number' | 'sealedAt' | 'keyId'> | null> {
  const [row] = await tx
    .select({ number: seals.number, sealedAt: seals.sealedAt, keyId: seals.keyId })
    .from(seals)
    .where(eq(seals.tenantId, tx.tenantId))
    .orderBy(desc(seals.number))
    .limit(1);
  return row ?? null;
}

/** The first day with seals that is over, has not been closed, and is before `today`; null when there is none. */
export async function findDayToClose(tx: TenantTransaction, after: number, today: Day): Promise<Day | null> {
  const [row] = await tx
    .select({ day: seals.sealedOn })
    .from(seals)
    .where(and(eq(seals.tenantId, tx.tenantId), gt(seals.number, after), lt(seals.sealedOn, today)))
    .orderBy(asc(seals.number))
    .limit(1);
  return row?.day ?? null;
}

/** The texts of a day's seals in the order of their numbers. */
export function listSealTexts(
  tx: TenantTransaction,
  day: Day,
): Promise<readonly Pick<SealRow, 'number' | 'text'>[]> {
  return tx
    .select({ number: seals.number, text: seals.text })
    .from(seals)
    .where(and(eq(seals.tenantId, tx.tenantId), eq(seals.sealedOn, day)))
    .orderBy(asc(seals.number));
}

/** So many texts of seals from a number on, in the order of their numbers. */
export async function listSealTextsFrom(
  tx: TenantTransaction,
  first: number,
  size: number,
): Promise<readonly string[]> {
  const rows = await tx
    .select({ text: seals.text })
    .from(seals)
    .where(and(eq(seals.tenantId, tx.tenantId), gte(seals.number, first), lt(seals.number, first + size)))
    .orderBy(asc(seals.number));
  return rows.map(({ text }) => text);
}

/** What has to have a seal, and neither has one nor waits for it. */
export async function listUnasked(tx: TenantTransaction, limit: number): Promise<readonly SealSubject[]> {
  const rows = await tx.execute<{ kind: SealKind; subject_id: string }>(sql`
    select kind, subject_id from (
      select tenant_id, 'approval' as kind, id as subject_id from decisions d where exists (
        select from decision_lines l where l.tenant_id = d.tenant_id and l.decision_id = d.id and l.answer = 'approved')
      union all select tenant_id, 'acceptance', id from acceptances
      union all select tenant_id, 'release', missing_signature_id from acceptance_releases
      union all select tenant_id, 'credit', id from credit_notes
      union all select tenant_id, 'rework', id from work_orders where rework_of_id is not null
      union all select tenant_id, 'key', id from signing_keys where cause <> 'first'
    ) as due
    where due.tenant_id = ${tx.tenantId}::uuid and not exists (select from seal_requests r
      where r.tenant_id = due.tenant_id and r.kind = due.kind and r.subject_id = due.subject_id
        and (r.seal_number is null or exists (select from seals s
          where s.tenant_id = r.tenant_id and s.number = r.seal_number
            and s.kind = r.kind and s.subject_id = r.subject_id)))
    limit ${limit}`);
  return rows.map(({ kind, subject_id }) => ({ kind, subjectId: subject_id }));
}

/** Chains that have links behind the end that they are kept to: nothing of ours can add such a one. */
export async function listChainsBeyondEnd(tx: TenantTransaction): Promise<readonly Chain[]> {
  const rows = await tx.execute<{ chain: Chain }>(sql`
    select last.chain from (
      select 'seals' as chain, max(number) as number from seals where tenant_id = ${tx.tenantId}::uuid
      union all select 'seal_days', max(number) from seal_days where tenant_id = ${tx.tenantId}::uuid
      union all select 'audit', max(number) from audit_links where tenant_id = ${tx.tenantId}::uuid
    ) as last
    where last.number > coalesce((select h.number from chain_heads h
      where h.tenant_id = ${tx.tenantId}::uuid and h.chain = last.chain), 0)`);
  return rows.map(({ chain }) => chain);
}
