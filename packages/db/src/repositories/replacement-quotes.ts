import type { Instant, QuoteId, WorkOrderId } from '@grainwright/domain';
import { and, asc, desc, eq, inArray, isNull, ne, type SQL, sql } from 'drizzle-orm';
import { alias } from 'drizzle-orm/pg-core';
import type { TenantTransaction } from '../database.ts';
import { replacementQuotes, vehicles, workOrders } from '../schema/work-orders.ts';

export type QuoteRow = typeof replacementQuotes.$inferSelect;

/** A standing quote, in columns that contacts may read as well. */
export type StandingQuote = Omit<QuoteRow, 'tenantId' | 'takenFromId' | 'givenBy' | 'supersededAt'>;

/** In the order given. A work order has one for each damaged part at most, or one for all of them. */
export async function listStandingQuotes(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
): Promise<readonly StandingQuote[]> {
  return tx
    .select({
      id: replacementQuotes.id,
      workOrderId: replacementQuotes.workOrderId,
      part: replacementQuotes.part,
      side: replacementQuotes.side,
      amountMinor: replacementQuotes.amountMinor,
      partMinor: replacementQuotes.partMinor,
      fittingHours: replacementQuotes.fittingHours,
      hourlyMinor: replacementQuotes.hourlyMinor,
      note: replacementQuotes.note,
      origin: replacementQuotes.origin,
      givenAt: replacementQuotes.givenAt,
    })
    .from(replacementQuotes)
    .where(
      and(
        eq(replacementQuotes.tenantId, tx.tenantId),
        eq(replacementQuotes.workOrderId, workOrderId),
        isNull(replacementQuotes.supersededAt),
      ),
    )
    .orderBy(asc(replacementQuotes.givenAt), asc(replacementQuotes.id));
}

/** For staff only: whose vehicle a quote was taken from is nobody else's. */
export async function findQuote(tx: TenantTransaction, id: QuoteId): Promise<QuoteRow | null> {
  const [row] = await tx
    .select()
    .from(replacementQuotes)
    .where(and(eq(replacementQuotes.tenantId, tx.tenantId), eq(replacementQuotes.id, id)));
  return row ?? null;
}

/** False when the id is taken. */
export async function insertQuote(
  tx: TenantTransaction,
  row: Omit<QuoteRow, 'tenantId' | 'supersededAt'>,
): Promise<boolean> {
  const rows = await tx
    .insert(replacementQuotes)
    .values({ tenantId: tx.tenantId, ...row })
    .onConflictDoNothing({ target: [replacementQuotes.tenantId, replacementQuotes.id] })
    .returning({ id: replacementQuotes.id });
  return rows.length === 1;
}

export async function supersedeQuotes(
  tx: TenantTransaction,
  ids: readonly QuoteId[],
  at: Instant,
): Promise<void> {
  if (ids.length === 0) return;
  await tx
    .update(replacementQuotes)
    .set({ supersededAt: at })
    .where(and(eq(replacementQuotes.tenantId, tx.tenantId), inArray(replacementQuotes.id, [...ids])));
}

/** Where a quote that was taken from an earlier one comes from. For staff only. */
export interface QuoteSource {
  readonly quoteId: QuoteId;
  readonly workOrderId: WorkOrderId;
  readonly number: bigint;
  readonly givenAt: Instant;
}

export async function listQuoteSources(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
): Promise<readonly QuoteSource[]> {
  const source = alias(replacementQuotes, 'source');
  return tx
    .select({
      quoteId: replacementQuotes.id,
      workOrderId: source.workOrderId,
      number: workOrders.number,
      givenAt: source.givenAt,
    })
    .from(replacementQuotes)
    .innerJoin(
      source,
      and(eq(source.tenantId, replacementQuotes.tenantId), eq(source.id, replacementQuotes.takenFromId)),
    )
    .innerJoin(
      workOrders,
      and(eq(workOrders.tenantId, source.tenantId), eq(workOrders.id, source.workOrderId)),
    )
    .where(
      and(
        eq(replacementQuotes.tenantId, tx.tenantId),
        eq(replacementQuotes.workOrderId, workOrderId),
        isNull(replacementQuotes.supersededAt),
      ),
    );
}

/** A quote that somebody typed for a part of a kind of vehicle, with the work order it was for. */
export type EarlierQuote = Awaited<ReturnType<typeof listLastQuotes>>[number];

/**
 * The newest quote typed for each of these parts on a vehicle of this make and model, whatever the side and the year;
 * not those of void work orders. For staff only.
 */
export async function listLastQuotes(
  tx: TenantTransaction,
  kind: { readonly make: string; readonly model: string },
  parts: readonly string[],
) {
  if (kind.make === '' || kind.model === '' || parts.length === 0) return [];
  return tx
    .selectDistinctOn([replacementQuotes.part], {
      id: replacementQuotes.id,
      part: replacementQuotes.part,
      side: replacementQuotes.side,
      amountMinor: replacementQuotes.amountMinor,
      partMinor: replacementQuotes.partMinor,
      fittingHours: replacementQuotes.fittingHours,
      hourlyMinor: replacementQuotes.hourlyMinor,
      note: replacementQuotes.note,
      givenAt: replacementQuotes.givenAt,
      workOrderId: workOrders.id,
      number: workOrders.number,
      modelYear: vehicles.modelYear,
    })
    .from(replacementQuotes)
    .innerJoin(
      workOrders,
      and(
        eq(workOrders.tenantId, replacementQuotes.tenantId),
        eq(workOrders.id, replacementQuotes.workOrderId),
      ),
    )
    .innerJoin(
      vehicles,
      and(eq(vehicles.tenantId, workOrders.tenantId), eq(vehicles.id, workOrders.vehicleId)),
    )
    .where(
      and(
        eq(replacementQuotes.tenantId, tx.tenantId),
        eq(replacementQuotes.origin, 'typed'),
        inArray(replacementQuotes.part, [...parts]),
        // Of a quote that was corrected only the correction counts.
        isNull(replacementQuotes.supersededAt),
        ne(workOrders.state, 'void'),
        sql`lower(${vehicles.make}) = ${kind.make.toLowerCase()}`,
        sql`lower(${vehicles.model}) = ${kind.model.toLowerCase()}`,
      ),
    )
    .orderBy(asc(replacementQuotes.part), desc(replacementQuotes.givenAt), desc(replacementQuotes.id));
}

/**
 * What was quoted for the parts of a work order that are repaired, as `replacementCost` of the domain counts it: null
 * without a quote. For a query that reads the work order whose columns are given.
 */
export function quotedMinor(order: {
  readonly tenantId: SQL;
  readonly id: SQL;
  readonly decisionId: SQL;
}): SQL<string | null> {
  return sql`(select sum(quote.amount_minor) from ${replacementQuotes} quote
    where quote.tenant_id = ${order.tenantId} and quote.work_order_id = ${order.id} and quote.superseded_at is null
      and (quote.part = '' or exists (select from work_order_lines repaired
        where repaired.tenant_id = quote.tenant_id and repaired.work_order_id = quote.work_order_id
          and repaired.part = quote.part and (repaired.side = quote.side or '' in (repaired.side, quote.side))
          and repaired.repairs_damage and repaired.withdrawn_at is null
          and not exists (select from decision_lines answered
            where answered.tenant_id = repaired.tenant_id and answered.decision_id = ${order.decisionId}
              and answered.line_id = repaired.id and answered.answer = 'declined'))))`;
}
