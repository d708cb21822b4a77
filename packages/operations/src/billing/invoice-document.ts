import type { InvoiceLineRow, NewInvoice } from '@grainwright/db';
import {
  type AcceptanceId,
  addDays,
  type Invoice,
  type InvoiceBasis,
  type InvoiceId,
  type IssuedInvoice,
  invoiceLines,
  type LineClass,
  sumMinor,
  type WorkOrderId,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { toStoredJson } from '../stored-json.ts';
import { documentNumbers, documentVehicle } from './billable-words.ts';
import type { BillableVisit } from './invoice-basis.ts';

/** Who sells or buys, as it stood on the day of the invoice. Addresses may have several lines. */
export interface PartySnapshot {
  readonly name: string;
  readonly address: string;
  readonly phone: string;
  readonly email: string;
}

export interface DocumentParts {
  readonly id: InvoiceId;
  readonly sequence: bigint;
  readonly billable: BillableVisit;
  readonly basis: InvoiceBasis;
  readonly invoice: Invoice;
  readonly acceptances: ReadonlyMap<WorkOrderId, AcceptanceId>;
}

/** The invoice as it is stored: figures, snapshots of both parties, and the basis for a later credit. */
export function invoiceDocument(scope: Scope, parts: DocumentParts): NewInvoice {
  const { billable, invoice } = parts;
  const { visit, account } = billable;
  const { business, today, now, actor } = scope;
  const exemptions = invoice.tax.areas.flatMap((area) => area.exemptions);
  return {
    invoice: {
      id: parts.id,
      sequence: parts.sequence,
      number: `${business.invoicePrefix}${parts.sequence.toString().padStart(4, '0')}`,
      accountId: account.id,
      visitId: visit.id,
      issuedOn: today,
      dueOn: addDays(today, account.termsDays),
      workedOn: visit.day,
      currency: business.currency,
      seller: toStoredJson(sellerOf(scope)),
      buyer: toStoredJson({ name: account.name, address: account.billingAddress, phone: '', email: '' }),
      certificateNumber: exemptions[0]?.number ?? '',
      basis: toStoredJson(parts.basis),
      netMinor: invoice.totals.withoutTaxMinor,
      taxMinor: invoice.totals.taxMinor,
      totalMinor: invoice.totals.withTaxMinor,
      issuedBy: actor.personId,
      issuedAt: now,
    },
    lines: lineRows(parts),
    workOrders: workOrderRows(parts),
    taxes: taxRows(invoice),
    taxBases: invoice.tax.areas.map(({ areaCode, taxableMinor, exemptMinor, nonTaxableMinor }) => ({
      areaCode,
      taxableMinor,
      exemptMinor,
      nonTaxableMinor,
    })),
  };
}

/** What the invoice posts: its money by class, its tax by place and component. */
export function invoicePosting(scope: Scope, { id, billable, invoice }: DocumentParts): IssuedInvoice {
  const lines = invoiceLines(invoice);
  const ofClass = (lineClass: LineClass) => sumMinor(lines.map((line) => line.byClass[lineClass]));
  return {
    invoiceId: id,
    party: billable.account.id,
    on: scope.today,
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

function sellerOf({ business }: Scope): PartySnapshot {
  const { name, address, phone, email } = business;
  return { name, address, phone, email };
}

function lineRows({ invoice, billable }: DocumentParts): readonly InvoiceLineRow[] {
  const written = new Map(billable.lines.map((each) => [each.line.lineId, each.description]));
  return invoiceLines(invoice).map((line, index) => {
    const where = line.lineId === null ? undefined : written.get(line.lineId);
    return {
      position: index + 1,
      kind: line.kind,
      workOrderId: line.workOrderId,
      lineId: line.lineId,
      code: line.code,
      description: where === undefined || where === line.label ? line.label : `${line.label} (${where})`,
      trail: line.trail,
      netMinor: line.netMinor,
      laborMinor: line.byClass.labor,
      materialsMinor: line.byClass.materials,
    };
  });
}

function workOrderRows({ invoice, billable, acceptances }: DocumentParts): NewInvoice['workOrders'] {
  const subtotals = new Map(
    invoice.visits.flatMap((visit) =>
      visit.vehicles.map((vehicle) => [vehicle.workOrderId, vehicle.subtotalMinor] as const),
    ),
  );
  return billable.workOrders.map((workOrder, index) => ({
    workOrderId: workOrder.id,
    position: index + 1,
    vehicle: documentVehicle(workOrder.vehicle),
    numbers: documentNumbers(billable.account, workOrder),
    acceptanceId: acceptances.get(workOrder.id) ?? null,
    subtotalMinor: subtotals.get(workOrder.id) ?? 0n,
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
