import {
  type ExemptCredit,
  type ExemptDocument,
  listAreaNames,
  listBases,
  listExemptCredits,
  type PayableTax,
  sumExemptByKind,
  sumReclaimedTax,
  sumReportedDocuments,
  sumTaxBases,
  sumTaxesByComponent,
  sumTaxPayable,
} from '@grainwright/db';
import {
  buildInvoice,
  type ExemptSum,
  type JsonValue,
  type SalesTaxReport,
  salesTaxReport,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { storedBasis } from '../stored-prices.ts';
import type { ReportDays } from './read-report-days.ts';

/** The report, and what the ledger’s tax payable moved in the same days. */
export interface TiedSalesTax {
  readonly report: SalesTaxReport;
  readonly payable: readonly PayableTax[];
}

/** Throws when the identities of the report do not hold. */
export async function salesTaxOf({ tx }: Pick<Scope, 'tx'>, days: ReportDays): Promise<TiedSalesTax> {
  const { exempt, mixed } = await sumExemptByKind(tx, days);
  const bases = await listBases(
    tx,
    mixed.map((each) => each.id),
  );
  const credits = await listExemptCredits(tx, days);
  const report = salesTaxReport({
    bases: await sumTaxBases(tx, days),
    taxes: await sumTaxesByComponent(tx, days),
    documents: await sumReportedDocuments(tx, days),
    reclaimed: await sumReclaimedTax(tx, days),
    areaNames: await listAreaNames(tx),
    exempt: [
      ...exempt,
      ...mixed.flatMap((each) => exemptOfMixed(each, bases.get(each.id))),
      ...credits.flatMap(exemptOfCredit),
    ],
  });
  return { report, payable: await sumTaxPayable(tx, days) };
}

function exemptOfMixed(
  { month, source, areaCode, id }: ExemptDocument,
  basis: JsonValue | undefined,
): readonly ExemptSum[] {
  if (basis === undefined) throw new Error(`invoice ${id} has no basis`);
  return exemptionsOf(basis)
    .filter((each) => each.areaCode === areaCode)
    .map((each) => ({ ...each, month, source }));
}

/** What a credit took off each kind of exemption; below zero where a certificate came later. */
function exemptOfCredit({ month, before, after }: ExemptCredit): readonly ExemptSum[] {
  const source = 'credit_notes';
  return [
    ...exemptionsOf(before).map((each) => ({ ...each, month, source }) as const),
    ...exemptionsOf(after).map(
      (each) => ({ ...each, month, source, amountMinor: -each.amountMinor }) as const,
    ),
  ];
}

type AreaExemption = Pick<ExemptSum, 'areaCode' | 'kind' | 'amountMinor'>;

function exemptionsOf(stored: JsonValue): readonly AreaExemption[] {
  return buildInvoice(storedBasis(stored)).tax.areas.flatMap((area) =>
    area.exemptions.map(({ kind, amountMinor }) => ({ areaCode: area.areaCode, kind, amountMinor })),
  );
}
