import {
  formatDecimal,
  missingSignatureReasons,
  signerRoles,
  sumMinor,
  witnessWords,
} from '@grainwright/domain';
import {
  type InvoiceLineView,
  type InvoiceVehicleView,
  type InvoiceView,
  type PartySnapshot,
  paymentMethods,
} from '@grainwright/operations';
import { beforeAfter, type Picture, pictureRow } from '../../look/before-after.ts';
import { documentSheet, type Party, sums } from '../../look/document-sheet.ts';
import { dayShown, dayText, instantShown, money, moneyText } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';
import { type Definition, dataTable, emptyState } from '../../look/tables.ts';
import { workOrderNumber } from '../work-order/state-words.ts';

/** An invoice as a sheet to keep or print; the same for the business and its customer. */
export function invoiceSheet(invoice: InvoiceView, timeZone: string, logo?: string): Html {
  return documentSheet({
    kind: documentKinds[invoice.kind],
    number: invoice.number,
    business: sheetParty(invoice.seller),
    logo,
    to: sheetParty(invoice.buyer),
    facts: facts(invoice),
    body: html`
      ${invoice.subject !== '' && html`<p>${invoice.subject}</p>`}
      ${invoice.vehicles.length > 1 && byVehicle(invoice)}
      ${invoice.visits.length > 1 ? invoice.visits.map((visit) => visitPart(visit, invoice, timeZone)) : onlyVisit(invoice, timeZone)}
      ${sums(totals(invoice))}
      ${invoice.seller.note !== '' && html`<p class="hint">${invoice.seller.note}</p>`}`,
    closing: closing(invoice),
  });
}

const documentKinds = {
  invoice: 'Invoice',
  return_fee: 'Fee',
  late_charge: 'Late charge',
  opening_balance: 'Opening balance',
} as const satisfies Record<InvoiceView['kind'], string>;

/** Name and address, line by line, with phone and e-mail where there are. */
export function sheetParty({ name, address, phone, email }: PartySnapshot): Party {
  const lines = [...address.split('\n'), phone, email].map((line) => line.trim());
  return { name, lines: lines.filter((line) => line !== '') };
}

function facts(invoice: InvoiceView): readonly Definition[] {
  const certificate = { term: 'Certificate', value: invoice.certificateNumber };
  return [
    { term: 'Date', value: dayShown(invoice.issuedOn) },
    ...daysOfWork(invoice),
    { term: 'Due', value: dayShown(invoice.dueOn) },
    ...(invoice.certificateNumber === '' ? [] : [certificate]),
  ];
}

function daysOfWork({ visits, workedOn }: InvoiceView): readonly Definition[] {
  const first = visits[0]?.workedOn ?? workedOn;
  if (workedOn === null || first === null) return [];
  if (first === workedOn) return [{ term: 'Date of work', value: dayShown(workedOn) }];
  return [{ term: 'Work', value: html`${dayShown(first)} to ${dayShown(workedOn)}` }];
}

/** What each vehicle came to, for whoever posts the cost to each of them. */
function byVehicle({ vehicles, currency }: InvoiceView): Html {
  return dataTable({
    caption: 'By vehicle',
    totalsLabel: 'Repairs together',
    columns: [
      {
        header: 'Number',
        names: true,
        cell: (vehicle) =>
          vehicle.numbers === '' ? workOrderNumber(vehicle.workOrderNumber) : vehicle.numbers,
      },
      { header: 'Vehicle', cell: (vehicle) => vehicle.vehicle },
      {
        header: 'Repairs',
        figure: true,
        cell: (vehicle) => money(vehicle.subtotalMinor, currency),
        total: money(sumMinor(vehicles.map((vehicle) => vehicle.subtotalMinor)), currency),
      },
    ],
    rows: vehicles,
    empty: emptyState('No vehicle', 'Nothing was repaired.'),
  });
}

function onlyVisit(invoice: InvoiceView, timeZone: string): Html {
  return html`${invoice.vehicles.map((vehicle) => vehiclePart(vehicle, invoice, timeZone))}
    ${invoice.charges.length > 0 && chargesPart(invoice.charges, invoice.currency)}`;
}

/** One of several visits of a month, with what it adds once. */
function visitPart(visit: InvoiceView['visits'][number], invoice: InvoiceView, timeZone: string): Html {
  const vehicles = invoice.vehicles.filter((vehicle) => vehicle.visitId === visit.visitId);
  const charges = invoice.charges.filter((line) => line.visitId === visit.visitId);
  return html`<section>
    <h3>${dayText(visit.workedOn)}, ${visit.place}</h3>
    ${vehicles.map((vehicle) => vehiclePart(vehicle, invoice, timeZone))}
    ${charges.length > 0 && chargesPart(charges, invoice.currency)}
  </section>`;
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
    ${vehicle.pictureNotes.map((note) => html`<p class="hint">${note}</p>`)}
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

function acceptanceWords({ acceptance, unsigned }: InvoiceVehicleView, timeZone: string): Html {
  if (unsigned !== null)
    return html`<p>Not signed: ${missingSignatureReasons[unsigned.why]}. “${unsigned.reason}” ${witnessWords(unsigned.witness)}.
      Released by ${unsigned.releasedBy}.</p>`;
  if (acceptance === null) return html`<p>No signature was asked for.</p>`;
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
  const [before, after] = [picture(pair.before, 'before'), picture(pair.after, 'after')];
  const only = before ?? after;
  return html`<figure><figcaption>${words}</figcaption>
    ${before && after ? beforeAfter(before, after) : only && pictureRow([{ ...only, caption: before ? 'before' : 'after' }])}</figure>`;
}

function chargesPart(charges: readonly InvoiceLineView[], currency: string): Html {
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
    ...(invoice.kind === 'invoice'
      ? [
          ...classes(invoice),
          { term: 'Before tax', value: money(invoice.netMinor, currency) },
          ...taxes(invoice),
        ]
      : []),
    { term: 'Total', value: money(invoice.totalMinor, currency) },
    ...invoice.settledBy.map((each) => ({
      term: `${each.purpose === 'deposit' ? 'Deposit' : 'Paid'} ${dayText(each.receivedOn)} by ${paymentMethods[each.method]} ${each.reference}`.trim(),
      value: money(-each.amountMinor, currency),
    })),
    ...withoutMoney(invoice),
    { term: 'Due', value: money(invoice.openMinor, currency) },
    ...(invoice.disputedMinor === 0n
      ? []
      : [{ term: 'Of it in dispute', value: money(invoice.disputedMinor, currency) }]),
  ];
}

const letGoWords = {
  bad_debt: 'Written off',
  small_difference: 'Small difference',
  discount: 'Early-payment discount',
} as const;

/** What settled a part of it besides payments; of a void, that it is void. */
function withoutMoney(invoice: InvoiceView): readonly Definition[] {
  const { currency, voidedOn, totalMinor } = invoice;
  const voided =
    voidedOn === null ? [] : [{ term: `Void ${dayText(voidedOn)}`, value: money(-totalMinor, currency) }];
  return [
    ...voided,
    ...invoice.creditedBy.map((each) => ({
      term: `Credit note ${each.number}, ${dayText(each.appliedOn)}`,
      value: money(-each.amountMinor, currency),
    })),
    ...invoice.letGo.map((each) => ({
      term: `${letGoWords[each.kind]} ${dayText(each.on)}`,
      value: money(-each.amountMinor, currency),
    })),
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

/** What is exempt says so, and by which certificate; of a month only a part may be. */
function taxes(invoice: InvoiceView): readonly Definition[] {
  const { currency } = invoice;
  const charged = invoice.taxes
    .filter((tax) => tax.baseMinor !== 0n)
    .map((tax) => ({
      term: `${tax.areaName} ${tax.component.toLowerCase()} tax, ${formatDecimal(tax.ratePercent)} % of ${moneyText(tax.baseMinor, currency)}`,
      value: money(tax.taxMinor, currency),
    }));
  return invoice.certificateNumber === '' ? charged : [...charged, ...exempt(invoice, charged.length > 0)];
}

function exempt(invoice: InvoiceView, isPartly: boolean): readonly Definition[] {
  const { currency, certificateNumber, certificateKind, visits } = invoice;
  const word = (kind: InvoiceView['certificateKind']) => (kind === null ? 'certificate' : certificates[kind]);
  if (!isPartly)
    return [
      {
        term: `Sales tax, exempt, ${word(certificateKind)} ${certificateNumber}`,
        value: money(0n, currency),
      },
    ];
  return visits
    .filter((visit) => visit.certificateNumber !== '')
    .map((visit) => ({
      term: `Work of ${dayText(visit.workedOn)}, exempt, ${word(visit.certificateKind)} ${visit.certificateNumber}`,
      value: money(0n, currency),
    }));
}

function closing({ openMinor, currency, dueOn, voidedOn, forgivenMinor }: InvoiceView): Html {
  if (voidedOn !== null) return html`<p><b>Void since ${dayShown(voidedOn)}.</b> Nothing is due.</p>`;
  if (openMinor === 0n && forgivenMinor > 0n) return html`<p><b>Settled.</b> Nothing is due.</p>`;
  if (openMinor === 0n) return html`<p><b>Paid in full.</b> Thank you.</p>`;
  return html`<p><b>${money(openMinor, currency)}</b> due by ${dayShown(dueOn)}</p>`;
}
