import type { InvoiceLineRow, NewInvoice } from '@grainwright/db';
import {
  addDays,
  type Day,
  type Invoice,
  type InvoiceId,
  type IssuedInvoice,
  invoiceLines,
  type LineClass,
  sumMinor,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { toStoredJson } from '../stored-json.ts';
import { documentNumbers, documentVehicle } from './billable-words.ts';
import { type BillableWork, workOrdersOf } from './billable-work.ts';
import type { ComputedInvoice } from './compute-invoice.ts';

/** Who sells or buys, as it stood on the day of the invoice. Addresses may have several lines. */
export interface PartySnapshot {
  readonly name: string;
  readonly address: string;
  readonly phone: string;
  readonly email: string;
}

/** The seller of a document, with the note that the business prints on its documents. */
export interface SellerSnapshot extends PartySnapshot {
  readonly note: string;
}

export interface DocumentParts extends ComputedInvoice {
  readonly id: InvoiceId;
  readonly sequence: bigint;
  readonly issuedOn: Day;
}

/** The invoice as it is stored: figures, snapshots of both parties, and the basis for a later credit. */
export function invoiceDocument(scope: Scope, parts: DocumentParts): NewInvoice {
  const { work, invoice, issuedOn } = parts;
  const { account, visits } = work;
  const { business, now, actor } = scope;
  const exemptions = invoice.tax.areas.flatMap((area) => area.exemptions);
  const [only] = visits;
  return {
    invoice: {
      id: parts.id,
      sequence: parts.sequence,
      number: `${business.invoicePrefix}${parts.sequence.toString().padStart(4, '0')}`,
      accountId: account.id,
      visitId: visits.length === 1 ? (only?.visit.id ?? null) : null,
      issuedOn,
      dueOn: addDays(issuedOn, account.termsDays),
      workedOn: visits.at(-1)?.visit.day ?? null,
      currency: business.currency,
      seller: toStoredJson(sellerOf(scope)),
      buyer: toStoredJson(buyerOf(work)),
      certificateNumber: exemptions[0]?.number ?? '',
      basis: toStoredJson(parts.basis),
      netMinor: invoice.totals.withoutTaxMinor,
      taxMinor: invoice.totals.taxMinor,
      totalMinor: invoice.totals.withTaxMinor,
      issuedBy: actor.personId,
      issuedAt: now,
    },
    visits: visitRows(parts),
    lines: lineRows(parts),
    workOrders: workOrderRows(parts),
    taxes: taxRows(invoice),
    taxBases: taxBasisRows(invoice),
  };
}

/** What the invoice posts: its money by class, its tax by place and component. */
export function invoicePosting({ id, work, invoice, issuedOn }: DocumentParts): IssuedInvoice {
  const lines = invoiceLines(invoice);
  const ofClass = (lineClass: LineClass) => sumMinor(lines.map((line) => line.byClass[lineClass]));
  return {
    invoiceId: id,
    party: work.account.id,
    on: issuedOn,
    laborMinor: ofClass('labor'),
    materialsMinor: ofClass('materials'),
    tripMinor: ofClass('trip'),
    feeMinor: ofClass('fee'),
    taxes: invoice.tax.areas.flatMap((area) =>
      area.components.map((component) => ({
        areaCode: area.areaCode,
        component: component.name,
        amountMinor: component.amountMinor,
      })),
    ),
  };
}

function sellerOf({ business }: Scope): SellerSnapshot {
  const { name, address, phone, email, documentNote } = business;
  return { name, address, phone, email, note: documentNote };
}

/** Whoever comes in is written to by name; the house account stays the one that owes. */
function buyerOf(work: BillableWork): PartySnapshot {
  const { account } = work;
  const owners = new Map(workOrdersOf(work).map((each) => [each.ownerName, each.ownerPhone]));
  const [[name, phone] = ['', '']] = owners;
  if (account.kind === 'retail' && owners.size === 1 && name !== '')
    return { name, address: '', phone, email: '' };
  return { name: account.name, address: account.billingAddress, phone: '', email: '' };
}

function visitRows({ work, invoice }: DocumentParts): NewInvoice['visits'] {
  return work.visits.map(({ visit }, index) => {
    const billed = invoice.visits[index];
    if (billed === undefined) throw new Error('a visit was not billed');
    return {
      visitId: visit.id,
      position: index + 1,
      workedOn: visit.day,
      place: visit.siteName,
      areaCode: billed.areaCode,
      certificateKind: billed.certificate?.kind ?? null,
      certificateNumber: billed.certificate?.number ?? '',
    };
  });
}

function lineRows({ invoice, work }: DocumentParts): readonly InvoiceLineRow[] {
  const written = new Map(work.lines.map((each) => [each.line.lineId, each.description]));
  const lines = invoice.visits.flatMap((visit) =>
    invoiceLines({ visits: [visit] }).map((line) => ({ ...line, visitId: visit.visitId })),
  );
  return lines.map((line, index) => {
    const where = line.lineId === null ? undefined : written.get(line.lineId);
    return {
      position: index + 1,
      kind: line.kind,
      workOrderId: line.workOrderId,
      lineId: line.lineId,
      code: line.code,
      description: where === undefined || where === line.label ? line.label : `${line.label} (${where})`,
      trail: line.trail === line.label ? '' : line.trail,
      netMinor: line.netMinor,
      laborMinor: line.byClass.labor,
      materialsMinor: line.byClass.materials,
      visitId: line.visitId,
    };
  });
}

function workOrderRows({ invoice, work, acceptances }: DocumentParts): NewInvoice['workOrders'] {
  const subtotals = new Map(
    invoice.visits.flatMap((visit) =>
      visit.vehicles.map((vehicle) => [vehicle.workOrderId, vehicle.subtotalMinor] as const),
    ),
  );
  return workOrdersOf(work).map((workOrder, index) => ({
    workOrderId: workOrder.id,
    position: index + 1,
    vehicle: documentVehicle(workOrder.vehicle),
    numbers: documentNumbers(work.account, workOrder),
    acceptanceId: acceptances.get(workOrder.id) ?? null,
    subtotalMinor: subtotals.get(workOrder.id) ?? 0n,
  }));
}

/** Per place, whatever rates were in force on the days of work. */
function taxBasisRows(invoice: Invoice): NewInvoice['taxBases'] {
  const areas = Map.groupBy(invoice.tax.areas, (area) => area.areaCode);
  return [...areas].map(([areaCode, parts]) => ({
    areaCode,
    taxableMinor: sumMinor(parts.map((area) => area.taxableMinor)),
    exemptMinor: sumMinor(parts.map((area) => area.exemptMinor)),
    nonTaxableMinor: sumMinor(parts.map((area) => area.nonTaxableMinor)),
  }));
}

function taxRows(invoice: Invoice): NewInvoice['taxes'] {
  return invoice.tax.areas
    .flatMap((area) => area.components.map((component) => ({ area, component })))
    .map(({ area, component }, index) => ({
      position: index + 1,
      areaCode: area.areaCode,
      areaName: area.areaName,
      component: component.name,
      ratePercent: component.ratePercent,
      baseMinor: component.baseMinor,
      taxMinor: component.amountMinor,
    }));
}
