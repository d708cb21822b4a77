import type {
  Day,
  DiscountId,
  InvoiceId,
  TaxAmount,
  WriteOffId,
  WrittenOffBefore,
} from '@grainwright/domain';
import { and, asc, eq, type SQL, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { discountsTaken, writeOffRecoveries, writeOffs, writeOffTaxes } from '../schema/write-offs.ts';

export type WriteOffRow = Omit<typeof writeOffs.$inferSelect, 'tenantId'>;
export type RecoveryRow = Omit<typeof writeOffRecoveries.$inferSelect, 'tenantId'>;
export type DiscountRow = Omit<typeof discountsTaken.$inferSelect, 'tenantId'>;

/** Writes a write-off with the tax taken back with it. False when the id is taken. */
export async function insertWriteOff(
  tx: TenantTransaction,
  writeOff: WriteOffRow,
  taxes: readonly TaxAmount[],
): Promise<boolean> {
  const inserted = await tx
    .insert(writeOffs)
    .values({ tenantId: tx.tenantId, ...writeOff })
    .onConflictDoNothing({ target: [writeOffs.tenantId, writeOffs.id] })
    .returning({ id: writeOffs.id });
  if (inserted.length === 0) return false;
  if (taxes.length > 0)
    await tx.insert(writeOffTaxes).values(
      taxes.map(({ areaCode, component, amountMinor }, index) => ({
        tenantId: tx.tenantId,
        writeOffId: writeOff.id,
        position: index + 1,
        areaCode,
        component,
        taxMinor: amountMinor,
      })),
    );
  return true;
}

export interface FoundWriteOff extends WriteOffRow {
  readonly recovery: Pick<RecoveryRow, 'reason' | 'recoveredOn'> | null;
}

export async function findWriteOff(tx: TenantTransaction, id: WriteOffId): Promise<FoundWriteOff | null> {
  const [row] = await selectWriteOffs(tx, eq(writeOffs.id, id));
  return row ?? null;
}

export function listWriteOffsOfInvoice(
  tx: TenantTransaction,
  id: InvoiceId,
): Promise<readonly FoundWriteOff[]> {
  return selectWriteOffs(tx, eq(writeOffs.invoiceId, id));
}

async function selectWriteOffs(tx: TenantTransaction, where: SQL): Promise<readonly FoundWriteOff[]> {
  const rows = await tx
    .select({ writeOff: writeOffs, recovery: writeOffRecoveries })
    .from(writeOffs)
    .leftJoin(
      writeOffRecoveries,
      and(
        eq(writeOffRecoveries.tenantId, writeOffs.tenantId),
        eq(writeOffRecoveries.writeOffId, writeOffs.id),
      ),
    )
    .where(and(eq(writeOffs.tenantId, tx.tenantId), where))
    .orderBy(asc(writeOffs.writtenOffAt), asc(writeOffs.id));
  return rows.map(({ writeOff: { tenantId: _tenant, ...writeOff }, recovery }) => ({
    ...writeOff,
    recovery,
  }));
}

export async function listWriteOffTaxes(
  tx: TenantTransaction,
  id: WriteOffId,
): Promise<readonly TaxAmount[]> {
  return tx
    .select({
      areaCode: writeOffTaxes.areaCode,
      component: writeOffTaxes.component,
      amountMinor: writeOffTaxes.taxMinor,
    })
    .from(writeOffTaxes)
    .where(and(eq(writeOffTaxes.tenantId, tx.tenantId), eq(writeOffTaxes.writeOffId, id)))
    .orderBy(asc(writeOffTaxes.position));
}

/** What was written off of an invoice and not recovered, and the tax taken back with it. */
export async function sumStandingWriteOffs(tx: TenantTransaction, id: InvoiceId): Promise<WrittenOffBefore> {
  const standing = and(eq(writeOffs.tenantId, tx.tenantId), eq(writeOffs.invoiceId, id), notRecovered);
  const [sum] = await tx
    .select({ amount: sql<string>`coalesce(sum(${writeOffs.amountMinor}), 0)` })
    .from(writeOffs)
    .where(standing);
  const taxes = await tx
    .select({
      areaCode: writeOffTaxes.areaCode,
      component: writeOffTaxes.component,
      amount: sql<string>`sum(${writeOffTaxes.taxMinor})`,
    })
    .from(writeOffTaxes)
    .innerJoin(
      writeOffs,
      and(eq(writeOffs.tenantId, writeOffTaxes.tenantId), eq(writeOffs.id, writeOffTaxes.writeOffId)),
    )
    .where(standing)
    .groupBy(writeOffTaxes.areaCode, writeOffTaxes.component);
  return {
    amountMinor: BigInt(sum?.amount ?? 0),
    taxes: taxes.map(({ amount, ...tax }) => ({ ...tax, amountMinor: BigInt(amount) })),
  };
}

const notRecovered = sql`not exists (select 1 from write_off_recoveries r
  where r.tenant_id = "write_offs"."tenant_id" and r.write_off_id = "write_offs"."id")`;

/** False when it was recovered already. */
export async function insertRecovery(tx: TenantTransaction, recovery: RecoveryRow): Promise<boolean> {
  const inserted = await tx
    .insert(writeOffRecoveries)
    .values({ tenantId: tx.tenantId, ...recovery })
    .onConflictDoNothing({ target: [writeOffRecoveries.tenantId, writeOffRecoveries.writeOffId] })
    .returning({ writeOffId: writeOffRecoveries.writeOffId });
  return inserted.length === 1;
}

/** False when the id is taken. */
export async function insertDiscount(tx: TenantTransaction, discount: DiscountRow): Promise<boolean> {
  const inserted = await tx
    .insert(discountsTaken)
    .values({ tenantId: tx.tenantId, ...discount })
    .onConflictDoNothing({ target: [discountsTaken.tenantId, discountsTaken.id] })
    .returning({ id: discountsTaken.id });
  return inserted.length === 1;
}

export async function findDiscount(tx: TenantTransaction, id: DiscountId): Promise<DiscountRow | null> {
  const [row] = await tx
    .select()
    .from(discountsTaken)
    .where(and(eq(discountsTaken.tenantId, tx.tenantId), eq(discountsTaken.id, id)));
  return row ?? null;
}

/** What was let go of an invoice and stands, as whoever pays it may see it. */
export interface LetGo {
  readonly kind: WriteOffRow['kind'] | 'discount';
  readonly on: Day;
  readonly amountMinor: bigint;
  readonly writeOffId: WriteOffId | null;
}

export async function listLetGoOfInvoice(tx: TenantTransaction, id: InvoiceId): Promise<readonly LetGo[]> {
  const written = await tx
    .select({
      kind: writeOffs.kind,
      on: writeOffs.writtenOffOn,
      amountMinor: writeOffs.amountMinor,
      writeOffId: writeOffs.id,
    })
    .from(writeOffs)
    .where(and(eq(writeOffs.tenantId, tx.tenantId), eq(writeOffs.invoiceId, id), notRecovered))
    .orderBy(asc(writeOffs.writtenOffOn), asc(writeOffs.id));
  const discounts = await tx
    .select({ on: discountsTaken.takenOn, amountMinor: discountsTaken.amountMinor })
    .from(discountsTaken)
    .where(and(eq(discountsTaken.tenantId, tx.tenantId), eq(discountsTaken.invoiceId, id)))
    .orderBy(asc(discountsTaken.takenOn), asc(discountsTaken.id));
  return [...written, ...discounts.map((each) => ({ ...each, kind: 'discount' as const, writeOffId: null }))];
}
