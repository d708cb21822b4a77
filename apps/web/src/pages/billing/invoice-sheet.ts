import { formatDecimal, signerRoles } from '@grainwright/domain';
import {
  type InvoiceLineView,
  type InvoiceVehicleView,
  type InvoiceView,
  type PartySnapshot,
  paymentMethods,
} from '@grainwright/operations';
import { beforeAfter, type Picture } from '../../look/before-after.ts';
import { documentSheet, type Party, sums } from '../../look/document-sheet.ts';
import { dayShown, dayText, instantShown, money, moneyText } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';
import { type Definition, dataTable, emptyState } from '../../look/tables.ts';
import { workOrderNumber } from '../work-order/state-words.ts';

/** An invoice as a sheet to keep or print; the same for the business and its customer. */
export function invoiceSheet(invoice: InvoiceView, timeZone: string): Html {
  return documentSheet({
    kind: 'Invoice',
    number: invoice.number,
    business: sheetParty(invoice.seller),
    to: sheetParty(invoice.buyer),
    facts: facts(invoice),
    body: html`
      ${invoice.vehicles.map((vehicle) => vehiclePart(vehicle, invoice, timeZone))}
      ${invoice.charges.length > 0 && chargesPart(invoice)}
      ${sums(totals(invoice))}`,
    closing: closing(invoice),
  });
}

/** Name and address, line by line, with phone and e-mail where there are. */
export function sheetParty({ name, address, phone, email }: PartySnapshot): Party {
  const lines = [...address.split('\n'), phone, email].map((line) => line.trim());
  return { name, lines: lines.filter((line) => line !== '') };
}

function facts(invoice: InvoiceView): readonly Definition[] {
  const certificate = { term: 'Certificate', value: invoice.certificateNumber };
  return [
    { term: 'Date', value: dayShown(invoice.issuedOn) },
    ...(invoice.workedOn === null ? [] : [{ term: 'Date of work', value: dayShown(invoice.workedOn) }]),
    { term: 'Due', value: dayShown(invoice.dueOn) },
    ...(invoice.certificateNumber === '' ? [] : [certificate]),
  ];
}

function vehiclePart(vehicle: InvoiceVehicleView, invoice: InvoiceView, timeZone: string): Html {
  const { currency } = invoice;
  const total = (amount: (line: InvoiceLineView) => bigint) =>
    money(
      vehicle.lines.reduce((sum, line) => sum + amount(line), 0n),
      currency,
    );
  return html`<section>
    <h3>${vehicle.vehicle}</h3>
    <p>${[workOrderNumber(vehicle.workOrderNumber), vehicle.numbers].filter((part) => part !== '').join(', ')}</p>
    ${dataTable({
      caption: `Repairs on ${vehicle.vehicle}`,
      captionHidden: true,
      totalsLabel: 'This vehicle',
      columns: [
        { header: 'Code', names: true, cell: (line) => line.code },
        { header: 'Repair', cell: lineWords },
        {
          header: 'Labor',
          figure: true,
          cell: (line) => money(line.laborMinor, currency),
          total: total((line) => line.laborMinor),
        },
        {
          header: 'Materials',
          figure: true,
          cell: (line) => money(line.materialsMinor, currency),
          total: total((line) => line.materialsMinor),
        },
        {
          header: 'Amount',
          figure: true,
          cell: (line) => money(line.netMinor, currency),
          total: money(vehicle.subtotalMinor, currency),
        },
      ],
      rows: vehicle.lines,
      empty: emptyState('No repairs', 'Nothing was repaired on this vehicle.'),
    })}
    ${acceptanceWords(vehicle, timeZone)}
    ${vehicle.pictures.map((pair) => pictures(pair, vehicle))}
  </section>`;
}

function lineWords(line: InvoiceLineView): Html {
  return html`${line.description}${line.trail !== '' && html`<br><span class="hint">${line.trail}</span>`}`;
}

const outcomes = {
  accepted: 'Accepted',
  accepted_with_remark: 'Accepted with a remark',
  not_accepted: 'Not accepted',
} as const;

function acceptanceWords({ acceptance }: InvoiceVehicleView, timeZone: string): Html {
  if (acceptance === null)
    return html`<p>No signature was asked for, or the work was released without one.</p>`;
  const { outcome, remark, signerName, signerRole, acceptedAt } = acceptance;
  return html`<p>${outcomes[outcome]} by ${signerName}, ${signerRoles[signerRole]},
    ${instantShown(acceptedAt, timeZone)}.${remark !== '' && html` “${remark}”`}</p>`;
}

function pictures(pair: InvoiceVehicleView['pictures'][number], vehicle: InvoiceVehicleView): Html {
  const words = vehicle.lines.find((line) => line.lineId === pair.lineId)?.description ?? vehicle.vehicle;
  const picture = (id: string | null, purpose: string): Picture | null =>
    id === null
      ? null
      : { src: `/photos/${id}/view`, alt: `${words}: ${purpose}`, href: `/photos/${id}/view` };
  return html`<figure><figcaption>${words}</figcaption>
    ${beforeAfter(picture(pair.before, 'before'), picture(pair.after, 'after'))}</figure>`;
}

function chargesPart({ charges, currency }: InvoiceView): Html {
  return html`<section><h3>For the visit</h3>${dataTable({
    caption: 'Charged once for the visit',
    captionHidden: true,
    columns: [
      { header: 'Code', names: true, cell: (line) => line.code },
      { header: 'Charge', cell: lineWords },
      { header: 'Amount', figure: true, cell: (line) => money(line.netMinor, currency) },
    ],
    rows: charges,
    empty: emptyState('No charges', 'The visit adds nothing.'),
  })}</section>`;
}

/** Tax is stated by component, each on its base, as it was rounded. */
function totals(invoice: InvoiceView): readonly Definition[] {
  const { currency } = invoice;
  return [
    ...classes(invoice),
    { term: 'Before tax', value: money(invoice.netMinor, currency) },
    ...taxes(invoice),
    { term: 'Total', value: money(invoice.totalMinor, currency) },
    ...invoice.settledBy.map((each) => ({
      term: `Paid ${dayText(each.receivedOn)} by ${paymentMethods[each.method]} ${each.reference}`.trim(),
      value: money(-each.amountMinor, currency),
    })),
    { term: 'Due', value: money(invoice.openMinor, currency) },
  ];
}

/** Labor and materials are stated apart, of repairs and of what the visit adds; what is neither is its charges. */
function classes({ vehicles, charges, netMinor, currency }: InvoiceView): readonly Definition[] {
  const lines = [...vehicles.flatMap((vehicle) => vehicle.lines), ...charges];
  const laborMinor = lines.reduce((sum, line) => sum + line.laborMinor, 0n);
  const materialsMinor = lines.reduce((sum, line) => sum + line.materialsMinor, 0n);
  const otherMinor = netMinor - laborMinor - materialsMinor;
  return [
    { term: 'Labor', value: money(laborMinor, currency) },
    { term: 'Materials', value: money(materialsMinor, currency) },
    ...(otherMinor === 0n ? [] : [{ term: 'Trip and fees', value: money(otherMinor, currency) }]),
  ];
}

const certificates = { resale: 'resale certificate', exempt_use: 'exempt-use certificate' } as const;

/** An exempt invoice says so, and by which certificate. */
function taxes({ taxes, certificateNumber, certificateKind, currency }: InvoiceView): readonly Definition[] {
  const charged = taxes
    .filter((tax) => tax.baseMinor !== 0n)
    .map((tax) => ({
      term: `${tax.areaName} ${tax.component.toLowerCase()} tax, ${formatDecimal(tax.ratePercent)} % of ${moneyText(tax.baseMinor, currency)}`,
      value: money(tax.taxMinor, currency),
    }));
  if (charged.length > 0 || certificateNumber === '') return charged;
  const certificate = certificateKind === null ? 'certificate' : certificates[certificateKind];
  return [{ term: `Sales tax, exempt, ${certificate} ${certificateNumber}`, value: money(0n, currency) }];
}

function closing({ openMinor, currency, dueOn }: InvoiceView): Html {
  if (openMinor === 0n) return html`<p><b>Paid in full.</b> Thank you.</p>`;
  return html`<p><b>${money(openMinor, currency)}</b> due by ${dayShown(dueOn)}</p>`;
}
