import { formatDecimal, formatMinor, sumMinor } from '@grainwright/domain';
import type {
  InvoiceLineView,
  InvoiceList,
  InvoiceRowView,
  InvoiceVehicleView,
  InvoiceView,
} from '@grainwright/operations';
import type { z } from 'zod';
import { answerDisputed } from '../disputes/answers.ts';
import type { invoiceAnswer, invoicesAnswer } from './schemas.ts';

export function answerInvoices(list: InvoiceList): z.input<typeof invoicesAnswer> {
  return { invoices: list.rows.map(answerRow), next: list.next };
}

export function answerInvoice(view: InvoiceView): z.input<typeof invoiceAnswer> {
  const { seller, buyer, currency } = view;
  return {
    ...answerRow(view),
    seller,
    buyer,
    subject: view.subject,
    certificate_number: view.certificateNumber,
    visits: view.visits.map((visit) => ({
      visit_id: visit.visitId,
      worked_on: visit.workedOn,
      place: visit.place,
      area_code: visit.areaCode,
      certificate_number: visit.certificateNumber,
    })),
    prepaid: formatMinor(
      sumMinor(view.settledBy.filter((each) => each.purpose === 'deposit').map((each) => each.amountMinor)),
      currency,
    ),
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
      purpose: each.purpose,
      method: each.method,
      reference: each.reference,
      received_on: each.receivedOn,
      amount: formatMinor(each.amountMinor, currency),
    })),
    credited_by: view.creditedBy.map((each) => ({
      credit_note_id: each.creditNoteId,
      number: each.number,
      applied_on: each.appliedOn,
      amount: formatMinor(each.amountMinor, currency),
    })),
    let_go: view.letGo.map((each) => ({
      kind: each.kind,
      write_off_id: each.writeOffId,
      on: each.on,
      amount: formatMinor(each.amountMinor, currency),
    })),
    disputes: view.disputes.map(answerDisputed),
    void_reason: view.voidReason,
    priced_by_hand: view.handPrices.map(({ lineId, reason, by }) => ({ line_id: lineId, reason, by })),
  };
}

export function answerRow(row: InvoiceRowView) {
  const { id, kind, number, currency, overdue } = row;
  return {
    id,
    kind,
    number,
    numbers: [...row.numbers],
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
    forgiven: formatMinor(row.forgivenMinor, currency),
    open: formatMinor(row.openMinor, currency),
    disputed: formatMinor(row.disputedMinor, currency),
    overdue,
    voided_on: row.voidedOn,
  };
}

function answerVehicle(vehicle: InvoiceVehicleView, currency: string) {
  const { acceptance } = vehicle;
  return {
    work_order_id: vehicle.workOrderId,
    visit_id: vehicle.visitId,
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
    unsigned: vehicle.unsigned && {
      why: vehicle.unsigned.why,
      reason: vehicle.unsigned.reason,
      witness: vehicle.unsigned.witness,
      released_by: vehicle.unsigned.releasedBy,
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
    visit_id: line.visitId,
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
