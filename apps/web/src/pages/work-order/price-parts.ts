import { displayPercent, type EstimatePrice, type LineId } from '@grainwright/domain';
import type { WorkOrderView } from '@grainwright/operations';
import { sums } from '../../look/document-sheet.ts';
import { money, moneyText } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';
import { type Definition, dataTable } from '../../look/tables.ts';

/** A line as its price is explained. Amounts are minor units. */
export interface ExplainedLine {
  readonly words: string;
  readonly detail: string;
  /** For the business alone: whether the price was made by hand, and why; empty on every page of an account. */
  readonly note: string;
  readonly trail: string;
  readonly netMinor: bigint;
  readonly laborMinor: bigint;
  readonly materialsMinor: bigint;
}

/** The lines of an estimate, and what lifts them to the vehicle’s minimum, with why each costs what it does. */
export function explainedLines(
  view: Pick<WorkOrderView, 'lines' | 'priceNotes'>,
  price: EstimatePrice,
): readonly ExplainedLine[] {
  const lines = price.vehicle.lines.map((line) => ({
    words: view.lines.find((each) => each.id === line.lineId)?.words ?? line.repair,
    detail: `${line.code}, ${line.repair}`,
    note: byHandNote(view, line.lineId),
    trail: line.trail,
    netMinor: line.netMinor,
    laborMinor: line.laborMinor,
    materialsMinor: line.materialsMinor,
  }));
  return [...lines, ...minimumLine(price)];
}

/** “Priced by hand: glovebox lid (by Nell Sacker)” for a line whose price was made by hand, as the business reads it. */
export function byHandNote({ priceNotes }: Pick<WorkOrderView, 'priceNotes'>, lineId: LineId): string {
  const found = priceNotes.handPrices.find((each) => each.lineId === lineId);
  return found === undefined ? '' : handPriceWords(found);
}

export function handPriceWords({ reason, by }: WorkOrderView['priceNotes']['handPrices'][number]): string {
  return `Priced by hand: ${reason}${by === null ? '' : ` (by ${by})`}`;
}

function minimumLine({ vehicle: { minimum } }: EstimatePrice): readonly ExplainedLine[] {
  if (minimum === null) return [];
  const { netMinor, trail } = minimum;
  return [
    {
      words: 'Vehicle minimum',
      detail: 'all of it labor',
      note: '',
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
        cell: (line) =>
          html`${line.words}<br><span class="hint">${line.detail}</span>${line.note !== '' && html`<br><strong>${line.note}</strong>`}`,
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
    ...(visit.rush === null ? [] : [entry('Rush', visit.rush.amountMinor)]),
    ...(visit.minimum === null ? [] : [entry('Visit minimum', visit.minimum.amountMinor)]),
    ...(visit.trip === null ? [] : [entry('Trip', visit.trip.amountMinor)]),
    ...(taxes.length === 0 ? [entry('Tax', 0n)] : taxes),
    entry('Total', invoice.totals.withTaxMinor),
    ...depositEntries(deposit, currency),
  ])}
  ${reasons([
    visit.afterHours?.trail,
    visit.rush?.trail,
    visit.minimum?.trail,
    visit.trip?.trail,
    ...onceAVisit(visit.minimum?.amountMinor ?? 0n, visit.trip?.amountMinor ?? 0n),
    ...exemptions(price, currency),
  ])}`;
}

/**
 * A work order is priced as if it were the only one of its visit; whoever reads several must not add up what a visit
 * is charged once.
 */
export function onceAVisit(minimumMinor: bigint, tripMinor: bigint): readonly string[] {
  return [
    minimumMinor === 0n
      ? ''
      : 'What is missing to the visit minimum is charged once a visit, less with every vehicle that it has.',
    tripMinor === 0n ? '' : 'The trip is charged once a visit, however many vehicles it has.',
  ];
}

/** What a limit is compared with: “Repairs with after-hours and rush”. */
export function comparedWords(what: string, afterHoursMinor: bigint, rushMinor: bigint): string {
  const charges = [afterHoursMinor === 0n ? [] : ['after-hours'], rushMinor === 0n ? [] : ['rush']].flat();
  return charges.length === 0 ? what : `${what} with ${charges.join(' and ')}`;
}

/** What is asked in advance, and what of it is there already. */
export function depositEntries(deposit: WorkOrderView['deposit'], currency: string): readonly Definition[] {
  const entry = (term: string, minor: bigint) =>
    minor === 0n ? [] : [{ term, value: money(minor, currency) }];
  if (deposit === null) return [];
  return [
    ...entry('Deposit asked in advance', deposit.askedMinor),
    ...entry('Deposit held', deposit.heldMinor),
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
