import type { Month } from '../dates.ts';
import { sumMinor } from '../money/money.ts';
import type { ExemptionCertificate } from './tax-setup.ts';

/** Where an amount of the report comes from. What is no invoice lowers it. */
export type TaxSource = 'invoices' | 'credit_notes' | 'voids';

interface OfPlace {
  readonly month: Month;
  readonly source: TaxSource;
  readonly areaCode: string;
}

/** Sums of documents of one kind in one area and month, in minor units. A credit's are what comes off. */
export interface TaxBaseSum extends OfPlace {
  readonly taxableMinor: bigint;
  readonly exemptMinor: bigint;
  readonly nonTaxableMinor: bigint;
}
export interface ExemptSum extends OfPlace {
  readonly kind: ExemptionCertificate['kind'];
  readonly amountMinor: bigint;
}
export interface ComponentSum extends OfPlace {
  readonly component: string;
  readonly amountMinor: bigint;
}
/** What documents say they come to before tax: the other side of the identity. */
export interface DocumentSum {
  readonly month: Month;
  readonly source: TaxSource;
  readonly documents: number;
  readonly netMinor: bigint;
  readonly taxMinor: bigint;
}
/** Tax taken back with a bad debt (below zero where the debt was recovered), apart from what was sold. */
export interface ReclaimedTax {
  readonly month: Month;
  readonly areaCode: string;
  readonly component: string;
  readonly amountMinor: bigint;
}

export interface SalesTaxFacts {
  readonly bases: readonly TaxBaseSum[];
  readonly exempt: readonly ExemptSum[];
  readonly taxes: readonly ComponentSum[];
  readonly documents: readonly DocumentSum[];
  readonly reclaimed: readonly ReclaimedTax[];
  readonly areaNames: ReadonlyMap<string, string>;
}

/** `grossMinor = exemptMinor + nonTaxableMinor + taxableMinor`. */
export interface TaxFigures {
  readonly grossMinor: bigint;
  readonly exemptMinor: bigint;
  /** The exempt amount by the kind of certificate. */
  readonly exemptions: Readonly<Record<ExemptionCertificate['kind'], bigint>>;
  readonly nonTaxableMinor: bigint;
  readonly taxableMinor: bigint;
  readonly taxes: readonly { readonly component: string; readonly amountMinor: bigint }[];
  readonly taxMinor: bigint;
}

/** One area in one month. `net` is invoices less credit notes less voids. */
export interface SalesTaxRow {
  readonly month: Month;
  readonly areaCode: string;
  readonly areaName: string;
  readonly invoices: TaxFigures;
  readonly creditNotes: TaxFigures;
  /** Voids of invoices that an earlier period of the report, or one before it, holds. */
  readonly voids: TaxFigures;
  readonly net: TaxFigures;
  /** Tax taken back with bad debts. */
  readonly reclaimedMinor: bigint;
  /** `net.taxMinor` less what was taken back: what the ledger says is payable of this month. */
  readonly payableMinor: bigint;
}

export interface SalesTaxReport {
  /** By month, then area. */
  readonly rows: readonly SalesTaxRow[];
  readonly total: Omit<SalesTaxRow, 'month' | 'areaCode' | 'areaName'>;
  /** Documents by month and source: how many. */
  readonly documents: readonly DocumentSum[];
}

/**
 * Sales tax by area and month on the accrual basis. Throws when the parts of a gross do not come to it, and when what
 * the areas say differs from what the documents say they come to.
 */
export function salesTaxReport(facts: SalesTaxFacts): SalesTaxReport {
  const places = new Map(
    [...facts.bases, ...facts.taxes, ...facts.reclaimed].map(({ month, areaCode }) => [
      `${month} ${areaCode}`,
      { month, areaCode },
    ]),
  );
  const rows = [...places.entries()]
    .toSorted(([a], [b]) => (a < b ? -1 : 1))
    .map(([, place]) => rowOf(place.month, place.areaCode, facts));
  assertDocuments(rows, facts.documents);
  return {
    rows,
    total: {
      invoices: sumFigures(rows.map((row) => row.invoices)),
      creditNotes: sumFigures(rows.map((row) => row.creditNotes)),
      voids: sumFigures(rows.map((row) => row.voids)),
      net: sumFigures(rows.map((row) => row.net)),
      reclaimedMinor: sumMinor(rows.map((row) => row.reclaimedMinor)),
      payableMinor: sumMinor(rows.map((row) => row.payableMinor)),
    },
    documents: facts.documents,
  };
}

function rowOf(month: Month, areaCode: string, facts: SalesTaxFacts): SalesTaxRow {
  const figures = (source: TaxSource) => figuresOf({ month, source, areaCode }, facts);
  const invoices = figures('invoices');
  const creditNotes = figures('credit_notes');
  const voids = figures('voids');
  const net = sumFigures([invoices, negated(creditNotes), negated(voids)]);
  const reclaimedMinor = sumMinor(
    facts.reclaimed
      .filter((each) => each.month === month && each.areaCode === areaCode)
      .map((each) => each.amountMinor),
  );
  return {
    month,
    areaCode,
    areaName: facts.areaNames.get(areaCode) ?? areaCode,
    invoices,
    creditNotes,
    voids,
    net,
    reclaimedMinor,
    payableMinor: net.taxMinor - reclaimedMinor,
  };
}

function figuresOf(place: OfPlace, facts: SalesTaxFacts): TaxFigures {
  const here = (each: OfPlace) =>
    each.month === place.month && each.source === place.source && each.areaCode === place.areaCode;
  const bases = facts.bases.filter(here);
  const exempt = facts.exempt.filter(here);
  const exemptMinor = sumMinor(bases.map((base) => base.exemptMinor));
  const ofKind = (kind: ExemptSum['kind']) =>
    sumMinor(exempt.filter((each) => each.kind === kind).map((each) => each.amountMinor));
  const exemptions = { resale: ofKind('resale'), exempt_use: ofKind('exempt_use') };
  if (exemptions.resale + exemptions.exempt_use !== exemptMinor)
    throw new Error(`${wordsOf(place)}: the exempt amount is not that of its certificates`);
  const taxableMinor = sumMinor(bases.map((base) => base.taxableMinor));
  const nonTaxableMinor = sumMinor(bases.map((base) => base.nonTaxableMinor));
  const taxes = facts.taxes.filter(here).map(({ component, amountMinor }) => ({ component, amountMinor }));
  return {
    grossMinor: exemptMinor + nonTaxableMinor + taxableMinor,
    exemptMinor,
    exemptions,
    nonTaxableMinor,
    taxableMinor,
    taxes,
    taxMinor: sumMinor(taxes.map((tax) => tax.amountMinor)),
  };
}

function sumFigures(all: readonly TaxFigures[]): TaxFigures {
  const sum = (of: (figures: TaxFigures) => bigint) => sumMinor(all.map(of));
  const components = [...new Set(all.flatMap((each) => each.taxes.map((tax) => tax.component)))];
  return {
    grossMinor: sum((each) => each.grossMinor),
    exemptMinor: sum((each) => each.exemptMinor),
    exemptions: {
      resale: sum((each) => each.exemptions.resale),
      exempt_use: sum((each) => each.exemptions.exempt_use),
    },
    nonTaxableMinor: sum((each) => each.nonTaxableMinor),
    taxableMinor: sum((each) => each.taxableMinor),
    taxes: components.map((component) => ({
      component,
      amountMinor: sumMinor(
        all.flatMap((each) =>
          each.taxes.filter((tax) => tax.component === component).map((tax) => tax.amountMinor),
        ),
      ),
    })),
    taxMinor: sum((each) => each.taxMinor),
  };
}

function negated(figures: TaxFigures): TaxFigures {
  return {
    grossMinor: -figures.grossMinor,
    exemptMinor: -figures.exemptMinor,
    exemptions: { resale: -figures.exemptions.resale, exempt_use: -figures.exemptions.exempt_use },
    nonTaxableMinor: -figures.nonTaxableMinor,
    taxableMinor: -figures.taxableMinor,
    taxes: figures.taxes.map(({ component, amountMinor }) => ({ component, amountMinor: -amountMinor })),
    taxMinor: -figures.taxMinor,
  };
}

function assertDocuments(rows: readonly SalesTaxRow[], documents: readonly DocumentSum[]): void {
  const sources = [
    ['invoices', (row: SalesTaxRow) => row.invoices],
    ['credit_notes', (row: SalesTaxRow) => row.creditNotes],
    ['voids', (row: SalesTaxRow) => row.voids],
  ] as const;
  for (const month of new Set([...rows, ...documents].map((each) => each.month)))
    for (const [source, figures] of sources) {
      const ofMonth = rows.filter((row) => row.month === month).map(figures);
      const told = documents.filter((each) => each.month === month && each.source === source);
      const grossMinor = sumMinor(ofMonth.map((each) => each.grossMinor));
      const taxMinor = sumMinor(ofMonth.map((each) => each.taxMinor));
      if (
        grossMinor !== sumMinor(told.map((each) => each.netMinor)) ||
        taxMinor !== sumMinor(told.map((each) => each.taxMinor))
      )
        throw new Error(`${month}, ${source}: the areas do not come to what the documents say`);
    }
}

function wordsOf({ month, source, areaCode }: OfPlace): string {
  return `${month}, ${source}, area ${areaCode}`;
}
