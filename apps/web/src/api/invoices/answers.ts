import { formatDecimal, formatMinor } from '@grainwright/domain';
import type {
  InvoiceLineView,
  InvoiceList,
  InvoiceRowView,
  InvoiceVehicleView,
  InvoiceView,
} from '@grainwright/operations';
import type { z } from 'zod';
import type { invoiceAnswer, invoicesAnswer } from './schemas.ts';

export function answerInvoices(list: InvoiceList): z.input<typeof invoicesAnswer> {
  return { invoices: list.rows.map(answerRow), next: list.next?.toString() ?? null };
}

export function answerInvoice(view: InvoiceView): z.input<typeof invoiceAnswer> {
  const { seller, buyer, currency } = view;
  return {
    ...answerRow(view),
    seller,
    buyer,
    certificate_number: view.certificateNumber,
    vehicles: view.vehicles.map((vehicle) => answerVehicle(vehicle, currency)),
    charges: view.charges.map((line) => answerLine(line, currency)),
    taxes: view.taxes.map((tax) => ({
      area_code: tax.areaCode,
      area_name: tax.areaName,
      component: tax.component,
      rate_percent: formatDecimal(tax.ratePercent),
      base: formatMinor(tax.baseMinor, currency),
      tax: formatMinor(tax.taxMinor, currency),
    })),
    settled_by: view.settledBy.map((each) => ({
      payment_id: each.paymentId,
      method: each.method,
      reference: each.reference,
      received_on: each.receivedOn,
      amount: formatMinor(each.amountMinor, currency),
    })),
  };
}

function answerRow(row: InvoiceRowView) {
  const { id, number, currency, overdue } = row;
  return {
    id,
    number,
    account_id: row.accountId,
    account_name: row.accountName,
    currency,
    issued_on: row.issuedOn,
    due_on: row.dueOn,
    worked_on: row.workedOn,
    net: formatMinor(row.netMinor, currency),
    tax: formatMinor(row.taxMinor, currency),
    total: formatMinor(row.totalMinor, currency),
    paid: formatMinor(row.paidMinor, currency),
    open: formatMinor(row.openMinor, currency),
    overdue,
  };
}

function answerVehicle(vehicle: InvoiceVehicleView, currency: string) {
  const { acceptance } = vehicle;
  return {
    work_order_id: vehicle.workOrderId,
    work_order_number: vehicle.workOrderNumber.toString(),
    vehicle: vehicle.vehicle,
    numbers: vehicle.numbers,
    subtotal: formatMinor(vehicle.subtotalMinor, currency),
    lines: vehicle.lines.map((line) => answerLine(line, currency)),
    acceptance: acceptance && {
      outcome: acceptance.outcome,
      remark: acceptance.remark,
      signer_name: acceptance.signerName,
      signer_role: acceptance.signerRole,
      accepted_at: acceptance.acceptedAt,
    },
    pictures: vehicle.pictures.map((pair) => ({
      line_id: pair.lineId,
      before_photo_id: pair.before,
      after_photo_id: pair.after,
    })),
  };
}

function answerLine(line: InvoiceLineView, currency: string) {
  const { kind, code, description, trail } = line;
  return {
    kind,
    line_id: line.lineId,
    code,
    description,
    trail,
    net: formatMinor(line.netMinor, currency),
    labor: formatMinor(line.laborMinor, currency),
    materials: formatMinor(line.materialsMinor, currency),
  };
}
