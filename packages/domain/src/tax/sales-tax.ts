import { contains, type Day } from '../dates.ts';
import { allocate } from '../money/allocation.ts';
import { addDecimals, compareDecimals, type Decimal } from '../money/decimal.ts';
import { roundHalfUp, sumMinor } from '../money/money.ts';
import {
  type ExemptionCertificate,
  type LineClass,
  lineClasses,
  type TaxComponent,
  type TaxRounding,
  type TaxSetup,
} from './tax-setup.ts';

/** An amount by what it is for, in minor units. */
export type ByClass = Readonly<Record<LineClass, bigint>>;

/** One item of an invoice, such as a line, where it is taxed and which certificate covers it. */
export interface TaxItem {
  readonly byClass: ByClass;
  readonly setup: TaxSetup;
  readonly certificate: ExemptionCertificate | null;
}

export interface ComponentTax {
  readonly name: string;
  readonly ratePercent: Decimal;
  readonly baseMinor: bigint;
  readonly amountMinor: bigint;
}

/** Tax of one area under one set of rates. Gross is always exempt + non-taxable + taxable. */
export interface AreaTax {
  readonly areaCode: string;
  readonly areaName: string;
  readonly ratesFrom: Day;
  readonly grossMinor: bigint;
  readonly taxableMinor: bigint;
  /** Would be taxable, but for a certificate. */
  readonly exemptMinor: bigint;
  /** Of a class that the area does not tax. */
  readonly nonTaxableMinor: bigint;
  /** The exempt amount, by the certificate that makes it so. */
  readonly exemptions: readonly Exemption[];
  readonly components: readonly ComponentTax[];
  readonly taxMinor: bigint;
}

export interface Exemption {
  readonly kind: ExemptionCertificate['kind'];
  readonly number: string;
  readonly amountMinor: bigint;
}

export interface SalesTax {
  readonly areas: readonly AreaTax[];
  readonly grossMinor: bigint;
  readonly taxableMinor: bigint;
  readonly exemptMinor: bigint;
  readonly nonTaxableMinor: bigint;
  readonly taxMinor: bigint;
}

/**
 * Price rule 9: sales tax by class of charge and by area. The tenant chooses, as SSUTA §324 leaves to the
 * seller, whether tax is rounded per invoice or per item, and whether the components of a rate are rounded
 * each or together (then what was rounded is shared over them by largest remainder). Rounding is half-up,
 * which for amounts of zero and above is the same as §324's third-decimal rule.
 */
export function salesTax(items: readonly TaxItem[], rounding: TaxRounding): SalesTax {
  const groups = Map.groupBy(items, (item) => `${item.setup.areaCode} ${item.setup.inForce.from}`);
  const areas = [...groups.values()].map((group) => areaTax(group, rounding));
  return {
    areas,
    grossMinor: sumMinor(areas.map((area) => area.grossMinor)),
    taxableMinor: sumMinor(areas.map((area) => area.taxableMinor)),
    exemptMinor: sumMinor(areas.map((area) => area.exemptMinor)),
    nonTaxableMinor: sumMinor(areas.map((area) => area.nonTaxableMinor)),
    taxMinor: sumMinor(areas.map((area) => area.taxMinor)),
  };
}

/** The certificate valid on the date of work; of several the one that began last. */
export function certificateOn(
  certificates: readonly ExemptionCertificate[],
  dateOfWork: Day,
): ExemptionCertificate | null {
  return certificates.reduce<ExemptionCertificate | null>((latest, certificate) => {
    if (!contains(certificate.valid, dateOfWork)) return latest;
    return latest === null || certificate.valid.from > latest.valid.from ? certificate : latest;
  }, null);
}

/** How an area taxes on the date of work, or null where that is not set up. */
export function taxSetupOn(setups: readonly TaxSetup[], areaCode: string, dateOfWork: Day): TaxSetup | null {
  return setups.reduce<TaxSetup | null>((latest, setup) => {
    if (setup.areaCode !== areaCode || !contains(setup.inForce, dateOfWork)) return latest;
    return latest === null || setup.inForce.from > latest.inForce.from ? setup : latest;
  }, null);
}

export function sumByClass(byClass: ByClass): bigint {
  return sumMinor(lineClasses.map((lineClass) => byClass[lineClass]));
}

/** The components' rates added up. */
export function combinedRate(components: readonly TaxComponent[]): Decimal {
  return components.reduce((sum, component) => addDecimals(sum, component.ratePercent), {
    digits: 0n,
    scale: 0,
  });
}

function areaTax(items: readonly TaxItem[], rounding: TaxRounding): AreaTax {
  const setup = items[0]?.setup;
  if (setup === undefined) throw new Error('an area without items');
  const parts = items.map(taxParts);
  const taxable = parts.map((part) => part.taxableMinor);
  const taxableMinor = sumMinor(taxable);
  const bases = rounding.basis === 'item' ? taxable : [taxableMinor];
  const amounts = componentAmounts(bases, setup.components, rounding);
  const exemptMinor = sumMinor(parts.map((part) => part.exemptMinor));
  const nonTaxableMinor = sumMinor(parts.map((part) => part.nonTaxableMinor));
  return {
    areaCode: setup.areaCode,
    areaName: setup.areaName,
    ratesFrom: setup.inForce.from,
    grossMinor: taxableMinor + exemptMinor + nonTaxableMinor,
    taxableMinor,
    exemptMinor,
    nonTaxableMinor,
    exemptions: exemptions(items, parts),
    components: setup.components.map((component, index) => ({
      name: component.name,
      ratePercent: component.ratePercent,
      baseMinor: taxableMinor,
      amountMinor: amounts[index] ?? 0n,
    })),
    taxMinor: sumMinor(amounts),
  };
}

interface TaxParts {
  readonly taxableMinor: bigint;
  readonly exemptMinor: bigint;
  readonly nonTaxableMinor: bigint;
}

function taxParts(item: TaxItem): TaxParts {
  const taxableClasses = new Set<LineClass>(item.setup.taxableClasses);
  const inTaxedClasses = sumMinor(
    lineClasses
      .filter((lineClass) => taxableClasses.has(lineClass))
      .map((lineClass) => item.byClass[lineClass]),
  );
  return {
    taxableMinor: item.certificate === null ? inTaxedClasses : 0n,
    exemptMinor: item.certificate === null ? 0n : inTaxedClasses,
    nonTaxableMinor: sumByClass(item.byClass) - inTaxedClasses,
  };
}

function exemptions(items: readonly TaxItem[], parts: readonly TaxParts[]): readonly Exemption[] {
  const byCertificate = new Map<string, Exemption>();
  for (const [index, item] of items.entries()) {
    const amountMinor = parts[index]?.exemptMinor ?? 0n;
    if (item.certificate === null || amountMinor === 0n) continue;
    const { kind, number } = item.certificate;
    const key = `${kind} ${number}`;
    const before = byCertificate.get(key)?.amountMinor ?? 0n;
    byCertificate.set(key, { kind, number, amountMinor: before + amountMinor });
  }
  return [...byCertificate.values()];
}

function componentAmounts(
  bases: readonly bigint[],
  components: readonly TaxComponent[],
  rounding: TaxRounding,
): readonly bigint[] {
  if (components.length === 0) return [];
  if (rounding.components === 'each')
    return components.map(({ ratePercent }) => sumMinor(bases.map((base) => roundHalfUp(base, ratePercent))));
  const together = combinedRate(components);
  return allocate(sumMinor(bases.map((base) => roundHalfUp(base, together))), rateWeights(components));
}

/** The rates as whole numbers in the same proportion. */
function rateWeights(components: readonly TaxComponent[]): readonly bigint[] {
  const scale = Math.max(...components.map(({ ratePercent }) => ratePercent.scale));
  return components.map(({ ratePercent }) => {
    if (compareDecimals(ratePercent, { digits: 0n, scale: 0 }) < 0) throw new Error('a tax rate is negative');
    return ratePercent.digits * 10n ** BigInt(scale - ratePercent.scale);
  });
}
