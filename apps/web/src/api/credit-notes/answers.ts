import { formatDecimal, formatMinor } from '@grainwright/domain';
import type {
  CreditNoteList,
  CreditNoteRowView,
  CreditNoteView,
  CreditPreview,
} from '@grainwright/operations';
import type { z } from 'zod';
import type { creditNoteAnswer, creditNotesAnswer, previewAnswer } from './schemas.ts';

export function answerCreditNotes(list: CreditNoteList): z.input<typeof creditNotesAnswer> {
  return { credit_notes: list.rows.map(answerRow), next: list.next?.toString() ?? null };
}

export function answerCreditNote(view: CreditNoteView): z.input<typeof creditNoteAnswer> {
  const { seller, buyer, currency } = view;
  return {
    ...answerRow(view),
    seller,
    buyer,
    lines: view.lines.map((line) => ({
      kind: line.kind,
      work_order_id: line.workOrderId,
      line_id: line.lineId,
      description: line.description,
      net: formatMinor(line.netMinor, currency),
      labor: formatMinor(line.laborMinor, currency),
      materials: formatMinor(line.materialsMinor, currency),
    })),
    taxes: view.taxes.map((tax) => ({
      area_code: tax.areaCode,
      area_name: tax.areaName,
      component: tax.component,
      rate_percent: formatDecimal(tax.ratePercent),
      base: formatMinor(tax.baseMinor, currency),
      tax: formatMinor(tax.taxMinor, currency),
    })),
    applications: view.applications.map((each) => ({
      id: each.id,
      invoice_id: each.invoiceId,
      invoice_number: each.invoiceNumber,
      amount: formatMinor(each.amountMinor, currency),
      applied_on: each.appliedOn,
    })),
  };
}

export function answerPreview(preview: CreditPreview): z.input<typeof previewAnswer> {
  const { currency } = preview;
  const amounts = (of: { beforeMinor: bigint; afterMinor: bigint; creditMinor: bigint }) => ({
    before: formatMinor(of.beforeMinor, currency),
    after: formatMinor(of.afterMinor, currency),
    credit: formatMinor(of.creditMinor, currency),
  });
  return {
    invoice_id: preview.invoiceId,
    invoice_number: preview.invoiceNumber,
    currency,
    issued_on: preview.issuedOn,
    lines: preview.lines.map((line) => ({
      kind: line.kind,
      line_id: line.lineId,
      work_order_id: line.workOrderId,
      visit_id: line.visitId,
      description: line.description,
      ...amounts(line),
      trail: line.trail,
    })),
    taxes: preview.taxes.map((tax) => ({
      area_name: tax.areaName,
      component: tax.component,
      rate_percent: formatDecimal(tax.ratePercent),
      ...amounts(tax),
    })),
    net: formatMinor(preview.netMinor, currency),
    tax: formatMinor(preview.taxMinor, currency),
    total: formatMinor(preview.totalMinor, currency),
    applied: formatMinor(preview.appliedMinor, currency),
    left: formatMinor(preview.leftMinor, currency),
    open_after: formatMinor(preview.openAfterMinor, currency),
  };
}

function answerRow(row: CreditNoteRowView) {
  const { id, number, currency, reason } = row;
  return {
    id,
    number,
    account_id: row.accountId,
    account_name: row.accountName,
    invoice_id: row.invoiceId,
    invoice_number: row.invoiceNumber,
    issued_on: row.issuedOn,
    currency,
    reason,
    net: formatMinor(row.netMinor, currency),
    tax: formatMinor(row.taxMinor, currency),
    total: formatMinor(row.totalMinor, currency),
    unapplied: formatMinor(row.unappliedMinor, currency),
  };
}
