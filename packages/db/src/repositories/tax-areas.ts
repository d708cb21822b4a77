import type { Day } from '@grainwright/domain';
import { and, asc, eq, gte, inArray } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { taxAreas } from '../schema/accounts.ts';
import { invoices, invoiceVisits } from '../schema/billing.ts';
import { taxClasses, taxRates } from '../schema/prices.ts';
import { stillStands } from './voids.ts';

export type TaxAreaRow = typeof taxAreas.$inferSelect;
export type TaxRateRow = typeof taxRates.$inferSelect;
export type TaxClassesRow = typeof taxClasses.$inferSelect;

type New<Row> = Omit<Row, 'tenantId'>;

export interface NewTaxArea extends New<TaxAreaRow> {
  readonly rates: readonly New<Omit<TaxRateRow, 'taxAreaId'>>[];
  readonly classes: New<Omit<TaxClassesRow, 'taxAreaId'>>;
}

/** Writes the place, its rates and the classes it taxes. False when the id or the code is taken. */
export async function insertTaxArea(
  tx: TenantTransaction,
  { rates: parts, classes, ...area }: NewTaxArea,
): Promise<boolean> {
  const { tenantId } = tx;
  const rows = await tx
    .insert(taxAreas)
    .values({ tenantId, ...area })
    .onConflictDoNothing()
    .returning({ id: taxAreas.id });
  if (rows.length === 0) return false;
  if (parts.length > 0)
    await tx.insert(taxRates).values(parts.map((part) => ({ tenantId, taxAreaId: area.id, ...part })));
  await tx.insert(taxClasses).values({ tenantId, taxAreaId: area.id, ...classes });
  return true;
}

export async function findTaxAreaByCode(tx: TenantTransaction, code: string): Promise<TaxAreaRow | null> {
  const [row] = await tx
    .select()
    .from(taxAreas)
    .where(and(eq(taxAreas.tenantId, tx.tenantId), eq(taxAreas.code, code)));
  return row ?? null;
}

/** The code of a place that an account names; throws when there is none, which its foreign key rules out. */
export async function findTaxAreaCode(tx: TenantTransaction, id: string): Promise<string> {
  const [row] = await tx
    .select({ code: taxAreas.code })
    .from(taxAreas)
    .where(and(eq(taxAreas.tenantId, tx.tenantId), eq(taxAreas.id, id)));
  if (row === undefined) throw new Error('an account names a tax area that is not there');
  return row.code;
}

export interface TaxAreaWithRates extends TaxAreaRow {
  readonly rates: readonly TaxRateRow[];
  readonly classes: readonly TaxClassesRow[];
}

/** Every place by its code, with all periods of its rates and of the classes it taxes. */
export async function listTaxAreas(tx: TenantTransaction): Promise<readonly TaxAreaWithRates[]> {
  const areas = await tx
    .select()
    .from(taxAreas)
    .where(eq(taxAreas.tenantId, tx.tenantId))
    .orderBy(asc(taxAreas.code));
  if (areas.length === 0) return [];
  const ids = areas.map((area) => area.id);
  const parts = await tx
    .select()
    .from(taxRates)
    .where(and(eq(taxRates.tenantId, tx.tenantId), inArray(taxRates.taxAreaId, ids)))
    .orderBy(asc(taxRates.position), asc(taxRates.validFrom));
  const classes = await tx
    .select()
    .from(taxClasses)
    .where(and(eq(taxClasses.tenantId, tx.tenantId), inArray(taxClasses.taxAreaId, ids)))
    .orderBy(asc(taxClasses.validFrom));
  return areas.map((area) => ({
    ...area,
    rates: parts.filter((part) => part.taxAreaId === area.id),
    classes: classes.filter((row) => row.taxAreaId === area.id),
  }));
}

/** Adds the next period of one part of a place's tax, after `lockPriceBook` and a look at `listTaxAreas`. */
export async function insertTaxRate(tx: TenantTransaction, rate: New<TaxRateRow>): Promise<void> {
  await tx.insert(taxRates).values({ tenantId: tx.tenantId, ...rate });
}

/** As `insertTaxRate`, for the classes of charge that are taxed. */
export async function insertTaxClasses(tx: TenantTransaction, classes: New<TaxClassesRow>): Promise<void> {
  await tx.insert(taxClasses).values({ tenantId: tx.tenantId, ...classes });
}

/** The first invoice that stands and taxed work in a place on a day or after it; null where there is none. */
export async function findInvoiceOfWorkFrom(
  tx: TenantTransaction,
  areaCode: string,
  from: Day,
): Promise<{ readonly number: string; readonly workedOn: Day } | null> {
  const [row] = await tx
    .select({ number: invoices.number, workedOn: invoiceVisits.workedOn })
    .from(invoiceVisits)
    .innerJoin(
      invoices,
      and(eq(invoices.tenantId, invoiceVisits.tenantId), eq(invoices.id, invoiceVisits.invoiceId)),
    )
    .where(
      and(
        eq(invoiceVisits.tenantId, tx.tenantId),
        eq(invoiceVisits.areaCode, areaCode),
        gte(invoiceVisits.workedOn, from),
        stillStands,
      ),
    )
    .orderBy(asc(invoiceVisits.workedOn), asc(invoices.number))
    .limit(1);
  return row ?? null;
}
