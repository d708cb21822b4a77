import { displayPercent, type EstimatePrice, savings } from '@grainwright/domain';
import type { WorkOrderView } from '@grainwright/operations';
import { sums } from '../../look/document-sheet.ts';
import { money, moneyText } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';
import { type Definition, dataTable } from '../../look/tables.ts';

/** A line as its price is explained. Amounts are minor units. */
export interface ExplainedLine {
  readonly words: string;
  readonly detail: string;
  readonly trail: string;
  readonly netMinor: bigint;
  readonly laborMinor: bigint;
  readonly materialsMinor: bigint;
}

/** The lines of an estimate, and what lifts them to the vehicle’s minimum, with why each costs what it does. */
export function explainedLines(
  view: Pick<WorkOrderView, 'lines'>,
  price: EstimatePrice,
): readonly ExplainedLine[] {
  const lines = price.vehicle.lines.map((line) => ({
    words: view.lines.find((each) => each.id === line.lineId)?.words ?? line.repair,
    detail: `${line.code}, ${line.repair}`,
    trail: line.trail,
    netMinor: line.netMinor,
    laborMinor: line.laborMinor,
    materialsMinor: line.materialsMinor,
  }));
  return [...lines, ...minimumLine(price)];
}

function minimumLine({ vehicle: { minimum } }: EstimatePrice): readonly ExplainedLine[] {
  if (minimum === null) return [];
  const { netMinor, trail } = minimum;
  return [
    {
      words: 'Vehicle minimum',
      detail: 'all of it labor',
      trail,
      netMinor,
      laborMinor: netMinor,
      materialsMinor: 0n,
    },
  ];
}

/** `split` adds what of each line is labor and what materials. */
export function linesTable(
  lines: readonly ExplainedLine[],
  repairsMinor: bigint,
  currency: string,
  split: boolean,
): Html {
  const total = (amountMinor: bigint) => money(amountMinor, currency);
  const sum = (part: 'laborMinor' | 'materialsMinor') =>
    total(lines.reduce((soFar, line) => soFar + line[part], 0n));
  return dataTable({
    caption: 'Lines',
    captionHidden: true,
    rows: lines,
    empty: html`<p>There are no lines.</p>`,
    totalsLabel: 'Repairs',
    columns: [
      {
        header: 'Line',
        names: true,
        cell: (line) => html`${line.words}<br><span class="hint">${line.detail}</span>`,
      },
      { header: 'Why this price', cell: (line) => line.trail },
      ...(split
        ? [
            {
              header: 'Labor',
              figure: true,
              cell: (line: ExplainedLine) => total(line.laborMinor),
              total: sum('laborMinor'),
            },
            {
              header: 'Materials',
              figure: true,
              cell: (line: ExplainedLine) => total(line.materialsMinor),
              total: sum('materialsMinor'),
            },
          ]
        : []),
      { header: 'Price', figure: true, cell: (line) => total(line.netMinor), total: total(repairsMinor) },
    ],
  });
}

/** From the repairs to the total; the reasons stand under the sums. */
export function estimateSums(
  price: EstimatePrice,
  currency: string,
  deposit: WorkOrderView['deposit'] = null,
): Html {
  const { vehicle, visit, invoice } = price;
  const entry = (term: string, amountMinor: bigint): Definition => ({
    term,
    value: money(amountMinor, currency),
  });
  const taxes = invoice.tax.areas.flatMap((area) =>
    area.components
      .filter((part) => part.amountMinor !== 0n)
      .map((part) =>
        entry(
          `${part.name} tax, ${displayPercent(part.ratePercent)} on ${moneyText(part.baseMinor, currency)}`,
          part.amountMinor,
        ),
      ),
  );
  return html`${sums([
    entry('Repairs', vehicle.repairsMinor),
    ...(visit.afterHours === null ? [] : [entry('After hours', visit.afterHours.amountMinor)]),
    ...(visit.trip === null ? [] : [entry('Trip', visit.trip.amountMinor)]),
    ...(taxes.length === 0 ? [entry('Tax', 0n)] : taxes),
    entry('Total', invoice.totals.withTaxMinor),
    ...(deposit === null ? [] : depositEntries(deposit, entry)),
  ])}
  ${reasons([visit.afterHours?.trail, visit.trip?.trail, tripOnce(visit.trip?.amountMinor ?? 0n), ...exemptions(price, currency)])}`;
}

/** A work order is priced as if it were the only one of its visit; whoever reads several must not add the trips up. */
export function tripOnce(tripMinor: bigint): string {
  return tripMinor === 0n ? '' : 'The trip is charged once a visit, however many vehicles it has.';
}

/** What is asked in advance, and what of it is there already. */
function depositEntries(
  { askedMinor, heldMinor }: NonNullable<WorkOrderView['deposit']>,
  entry: (term: string, amountMinor: bigint) => Definition,
): readonly Definition[] {
  return [
    ...(askedMinor === 0n ? [] : [entry('Deposit asked in advance', askedMinor)]),
    ...(heldMinor === 0n ? [] : [entry('Deposit held', heldMinor)]),
  ];
}

function exemptions({ invoice }: EstimatePrice, currency: string): readonly string[] {
  return invoice.tax.areas.flatMap((area) =>
    area.exemptions.map(
      (each) => `${moneyText(each.amountMinor, currency)} without tax, certificate ${each.number}`,
    ),
  );
}

/** Why charges are what they are, under the sums. */
export function reasons(trails: readonly (string | undefined)[]): Html | null {
  const told = trails.filter((trail) => trail !== undefined && trail !== '');
  return told.length === 0
    ? null
    : html`<ul>${told.map((trail) => html`<li class="hint">${trail}</li>`)}</ul>`;
}

/** What a new part would cost, fitted, against the repair, both before tax; says so where there is no quote. */
export function againstReplacement(
  replacement: WorkOrderView['replacement'],
  repairMinor: bigint,
  currency: string,
): Html {
  if (replacement === null) return html`<p class="hint">No quote for a new part is on record.</p>`;
  const saved = savings(replacement.minor, repairMinor);
  const quote = html`A new part, fitted, was quoted at ${money(replacement.minor, currency)}${replacement.note !== '' && html` (${replacement.note})`}.`;
  const repair = html`This repair is ${money(repairMinor, currency)} before tax`;
  if (saved === null) return html`<p>${quote} ${repair}.</p>`;
  if (saved.savedMinor < 0n)
    return html`<p>${quote} ${repair}: ${money(-saved.savedMinor, currency)} more than the part.</p>`;
  return html`<p>${quote} ${repair}: <strong>${money(saved.savedMinor, currency)} less, ${displayPercent(saved.percent)}</strong>.</p>`;
}
