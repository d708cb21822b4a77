import { sumMinor } from '../money/money.ts';
import { type AreaTax, sumByClass } from '../tax/sales-tax.ts';
import type { TaxRounding } from '../tax/tax-setup.ts';
import { type Invoice, invoiceLines, taxGroups } from './invoice.ts';
import { brokenTotals } from './totals.ts';

/**
 * Checks an issued invoice by itself and names every identity that does not hold; none is the only good
 * answer. EN 16931 BR-CO-10 to BR-CO-17; where the components of a US rate are rounded apart, tax is their sum
 * and may differ from BR-CO-17 by up to a cent for each further component (and, rounded per item, for each
 * further item).
 */
export function brokenIdentities(invoice: Invoice, rounding: TaxRounding): readonly string[] {
  const lines = invoiceLines(invoice);
  const { totals, tax } = invoice;
  const input = {
    lineNetsMinor: lines.map((line) => line.netMinor),
    allowancesMinor: [],
    chargesMinor: [],
    taxGroups: taxGroups(tax, rounding, lines.length),
    prepaidMinor: totals.prepaidMinor,
    roundingMinor: totals.roundingMinor,
  };
  return [
    ...brokenTotals(input, totals),
    ...named(
      'labor + materials + trip + fee = line',
      lines.every((line) => sumByClass(line.byClass) === line.netMinor),
    ),
    ...named('lines of a vehicle = its subtotal', vehiclesAddUp(invoice)),
    ...named('taxed sales = total without tax', tax.grossMinor === totals.withoutTaxMinor),
    ...named('tax by area = total tax', tax.taxMinor === totals.taxMinor),
    ...tax.areas.flatMap(brokenArea),
  ];
}

function vehiclesAddUp(invoice: Invoice): boolean {
  return invoice.visits
    .flatMap((visit) => visit.vehicles)
    .every(
      (vehicle) =>
        sumMinor(vehicle.lines.map((line) => line.netMinor)) === vehicle.subtotalMinor &&
        vehicle.laborMinor + vehicle.materialsMinor === vehicle.subtotalMinor,
    );
}

function brokenArea(area: AreaTax): readonly string[] {
  return [
    ...named(
      `${area.areaCode}: gross = exempt + non-taxable + taxable`,
      area.grossMinor === area.exemptMinor + area.nonTaxableMinor + area.taxableMinor,
    ),
    ...named(
      `${area.areaCode}: exempt amounts by certificate = exempt`,
      sumMinor(area.exemptions.map((exemption) => exemption.amountMinor)) === area.exemptMinor,
    ),
    ...named(
      `${area.areaCode}: components = tax`,
      sumMinor(area.components.map((component) => component.amountMinor)) === area.taxMinor &&
        area.components.every((component) => component.baseMinor === area.taxableMinor),
    ),
  ];
}

function named(name: string, holds: boolean): readonly string[] {
  return holds ? [] : [name];
}
