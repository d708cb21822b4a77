import type {
  AccountId,
  DatedCareFactor,
  Decimal,
  ExemptionCertificate,
  LineClass,
  PriceBook,
  PriceTerms,
  Rate,
  TaxSetup,
} from '@grainwright/domain';
import { and, asc, eq } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { certificates, taxAreas } from '../schema/accounts.ts';
import { careFactors, carePercents, priceTerms, rates, taxClasses, taxRates } from '../schema/prices.ts';
import { type BuyerTerms, loadBuyers } from './buyers.ts';

/** A rate with what the price rules need not know: whether the repair mends damage, and so needs photos. */
export interface BookedRate extends Rate {
  readonly repairsDamage: boolean;
}
/** Price terms with what only the business knows: the share of list below which its owner has to consent; null: none. */
export interface BookedTerms extends PriceTerms {
  readonly floorPercent: Decimal | null;
}
export interface BookedPrices extends PriceBook {
  readonly rates: readonly BookedRate[];
  readonly terms: readonly BookedTerms[];
}

/** The whole price book of the tenant, every period of it. */
export async function loadPriceBook(tx: TenantTransaction): Promise<BookedPrices> {
  const rateRows = await tx
    .select()
    .from(rates)
    .where(eq(rates.tenantId, tx.tenantId))
    .orderBy(asc(rates.code), asc(rates.validFrom));
  const factorRows = await tx
    .select({ name: careFactors.name, period: carePercents })
    .from(careFactors)
    .innerJoin(
      carePercents,
      and(eq(carePercents.tenantId, careFactors.tenantId), eq(carePercents.factorCode, careFactors.code)),
    )
    .where(eq(careFactors.tenantId, tx.tenantId))
    .orderBy(asc(careFactors.code), asc(carePercents.validFrom));
  const termRows = await tx
    .select()
    .from(priceTerms)
    .where(eq(priceTerms.tenantId, tx.tenantId))
    .orderBy(asc(priceTerms.validFrom));
  return {
    rates: rateRows.map(asRate),
    factors: factorRows.map(
      ({ name, period }): DatedCareFactor => ({
        code: period.factorCode,
        name,
        percent: period.percent,
        inForce: { from: period.validFrom, to: period.validTo },
      }),
    ),
    terms: termRows.map(asTerms),
  };
}

function asRate(row: typeof rates.$inferSelect): BookedRate {
  return {
    code: row.code,
    repair: row.repair,
    family: row.family,
    band:
      row.overInches === null || row.toInches === null
        ? null
        : { overInches: row.overInches, toInches: row.toInches },
    part: row.part,
    material: row.material,
    listMinor: row.listMinor,
    materialsPercent: row.materialsPercent,
    takesFurtherRepair: row.takesFurtherRepair,
    repairsDamage: row.repairsDamage,
    inForce: { from: row.validFrom, to: row.validTo },
  };
}

function asTerms(row: typeof priceTerms.$inferSelect): BookedTerms {
  const { tenantId: _tenant, id: _id, validFrom, validTo, ...terms } = row;
  return { ...terms, inForce: { from: validFrom, to: validTo } };
}

/** What one account pays by: what it buys on, its place's taxes, its certificates. */
export interface AccountPricing extends BuyerTerms {
  readonly taxSetups: readonly TaxSetup[];
  readonly certificates: readonly ExemptionCertificate[];
}

/** Null when there is no such account. */
export async function loadAccountPricing(
  tx: TenantTransaction,
  accountId: AccountId,
): Promise<AccountPricing | null> {
  const buyer = (await loadBuyers(tx, [accountId])).get(accountId);
  if (buyer === undefined) return null;
  const papers = await tx
    .select()
    .from(certificates)
    .where(and(eq(certificates.tenantId, tx.tenantId), eq(certificates.accountId, accountId)));
  const { taxAreaId, ...terms } = buyer;
  return {
    ...terms,
    taxSetups: await loadTaxSetups(tx, taxAreaId),
    certificates: papers.map(({ kind, number, validFrom, validTo }) => ({
      kind,
      number,
      valid: { from: validFrom, to: validTo },
    })),
  };
}

/**
 * How a place taxes over time: its taxable classes and its rates, each with dates of its own, cut into periods in
 * which neither changes.
 */
async function loadTaxSetups(tx: TenantTransaction, areaId: string): Promise<readonly TaxSetup[]> {
  const [area] = await tx
    .select()
    .from(taxAreas)
    .where(and(eq(taxAreas.tenantId, tx.tenantId), eq(taxAreas.id, areaId)));
  if (area === undefined) throw new Error('an account names a tax area that is not there');
  const classRows = await tx
    .select()
    .from(taxClasses)
    .where(and(eq(taxClasses.tenantId, tx.tenantId), eq(taxClasses.taxAreaId, areaId)))
    .orderBy(asc(taxClasses.validFrom));
  const rateRows = await tx
    .select()
    .from(taxRates)
    .where(and(eq(taxRates.tenantId, tx.tenantId), eq(taxRates.taxAreaId, areaId)))
    .orderBy(asc(taxRates.position), asc(taxRates.validFrom));
  const starts = [...new Set([...classRows, ...rateRows].map((row) => row.validFrom))].toSorted();
  return classRows.flatMap((row) =>
    starts
      .filter((from) => row.validFrom <= from && (row.validTo === null || from <= row.validTo))
      .map((from) => {
        const inForce = rateRows.filter(
          (rate) => rate.validFrom <= from && (rate.validTo === null || from <= rate.validTo),
        );
        const ends = [row.validTo, ...inForce.map((rate) => rate.validTo)]
          .filter((to) => to !== null)
          .toSorted();
        return {
          areaCode: area.code,
          areaName: area.name,
          inForce: { from, to: ends[0] ?? null },
          components: inForce.map(({ component, ratePercent }) => ({ name: component, ratePercent })),
          taxableClasses: row.taxable.map((each) => each as LineClass),
        };
      }),
  );
}
