import type { ListedRate, PriceDraftId } from '@grainwright/domain';
import { and, asc, desc, eq, type SQL, sql } from 'drizzle-orm';
import { alias } from 'drizzle-orm/pg-core';
import type { TenantTransaction } from '../database.ts';
import { people } from '../schema/accounts.ts';
import { priceDraftRates, priceDrafts } from '../schema/price-drafts.ts';

export type PriceDraftRow = typeof priceDrafts.$inferSelect;
export type PriceDraftRateRow = typeof priceDraftRates.$inferSelect;

export interface NamedPriceDraft extends PriceDraftRow {
  readonly startedByName: string;
  /** Who put it into force or discarded it; null while it is open. */
  readonly endedByName: string | null;
  readonly rateCount: number;
}

/** Open ones first, then the newest. Bounded by `limit`. */
export function listPriceDrafts(tx: TenantTransaction, limit: number): Promise<readonly NamedPriceDraft[]> {
  return selectDrafts(tx, sql`true`, limit);
}

export async function findPriceDraft(
  tx: TenantTransaction,
  id: PriceDraftId,
): Promise<NamedPriceDraft | null> {
  const [row] = await selectDrafts(tx, eq(priceDrafts.id, id), 1);
  return row ?? null;
}

async function selectDrafts(
  tx: TenantTransaction,
  which: SQL,
  limit: number,
): Promise<readonly NamedPriceDraft[]> {
  const starters = alias(people, 'starters');
  const enders = alias(people, 'enders');
  const rows = await tx
    .select({
      draft: priceDrafts,
      startedByName: starters.name,
      endedByName: enders.name,
      rateCount: sql<number>`(select count(*)::integer from ${priceDraftRates}
        where ${priceDraftRates.tenantId} = ${priceDrafts.tenantId} and ${priceDraftRates.draftId} = ${priceDrafts.id})`,
    })
    .from(priceDrafts)
    .innerJoin(
      starters,
      and(eq(starters.tenantId, priceDrafts.tenantId), eq(starters.id, priceDrafts.startedBy)),
    )
    .leftJoin(enders, and(eq(enders.tenantId, priceDrafts.tenantId), eq(enders.id, priceDrafts.endedBy)))
    .where(and(eq(priceDrafts.tenantId, tx.tenantId), which))
    .orderBy(desc(eq(priceDrafts.state, 'open')), desc(priceDrafts.startedAt), desc(priceDrafts.id))
    .limit(limit);
  return rows.map(({ draft, ...names }) => ({ ...draft, ...names }));
}

/** The draft, kept from others until the transaction ends; null when there is none such. */
export async function lockPriceDraft(tx: TenantTransaction, id: PriceDraftId): Promise<PriceDraftRow | null> {
  const [row] = await tx
    .select()
    .from(priceDrafts)
    .where(and(eq(priceDrafts.tenantId, tx.tenantId), eq(priceDrafts.id, id)))
    .for('update');
  return row ?? null;
}

/** False when the id is taken. */
export async function insertPriceDraft(
  tx: TenantTransaction,
  draft: Omit<PriceDraftRow, 'tenantId'>,
): Promise<boolean> {
  const rows = await tx
    .insert(priceDrafts)
    .values({ tenantId: tx.tenantId, ...draft })
    .onConflictDoNothing()
    .returning({ id: priceDrafts.id });
  return rows.length === 1;
}

/** After `lockPriceDraft`. */
export async function updatePriceDraft(
  tx: TenantTransaction,
  id: PriceDraftId,
  change: Partial<
    Pick<PriceDraftRow, 'name' | 'countsFrom' | 'base' | 'revision' | 'state' | 'endedBy' | 'endedAt'>
  >,
): Promise<void> {
  await tx
    .update(priceDrafts)
    .set(change)
    .where(and(eq(priceDrafts.tenantId, tx.tenantId), eq(priceDrafts.id, id)));
}

/** The rows of a draft, by code. */
export async function listPriceDraftRates(
  tx: TenantTransaction,
  draftId: PriceDraftId,
): Promise<readonly PriceDraftRateRow[]> {
  return tx
    .select()
    .from(priceDraftRates)
    .where(and(eq(priceDraftRates.tenantId, tx.tenantId), eq(priceDraftRates.draftId, draftId)))
    .orderBy(asc(priceDraftRates.code));
}

/** Puts these rows in the place of all that the draft had. After `lockPriceDraft`. */
export async function replacePriceDraftRates(
  tx: TenantTransaction,
  draftId: PriceDraftId,
  rates: readonly ListedRate[],
): Promise<void> {
  await tx
    .delete(priceDraftRates)
    .where(and(eq(priceDraftRates.tenantId, tx.tenantId), eq(priceDraftRates.draftId, draftId)));
  if (rates.length === 0) return;
  await tx.insert(priceDraftRates).values(rates.map((rate) => ({ tenantId: tx.tenantId, draftId, ...rate })));
}
