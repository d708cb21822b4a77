import { formatMinor } from '@grainwright/domain';
import type { InvoicePreview, InvoiceToIssue, IssuedRun, ReadyList } from '@grainwright/operations';
import type { z } from 'zod';
import { answerRow } from './answers.ts';
import type { previewAnswer, readyAnswer, runAnswer } from './schemas.ts';

export function answerReady(list: ReadyList): z.input<typeof readyAnswer> {
  return { invoices: list.invoices.map(answerToIssue), next: list.next };
}

export function answerPreview(preview: InvoicePreview): z.input<typeof previewAnswer> {
  const words = (minor: bigint) => formatMinor(minor, preview.currency);
  return {
    issued_on: preview.issuedOn,
    due_on: preview.dueOn,
    currency: preview.currency,
    repairs: words(preview.repairsMinor),
    after_hours: words(preview.afterHoursMinor),
    rush: words(preview.rushMinor),
    visit_minimum: words(preview.visitMinimumMinor),
    trip: words(preview.tripMinor),
    fees: words(preview.feesMinor),
    tax: words(preview.taxMinor),
    total: words(preview.totalMinor),
    prepaid: words(preview.prepaidMinor),
  };
}

export function answerRun(run: IssuedRun): z.input<typeof runAnswer> {
  return {
    through: run.through,
    issued: run.issued.map(answerRow),
    refused: run.refused.map(({ invoice, problem }) => ({
      ...answerToIssue(invoice),
      code: problem.code,
      detail: problem.detail,
    })),
    waiting: run.waiting.map(answerToIssue),
  };
}

function answerToIssue(invoice: InvoiceToIssue) {
  const { currency } = invoice;
  return {
    account_id: invoice.accountId,
    account_name: invoice.accountName,
    invoice_rule: invoice.invoiceRule,
    month: invoice.month,
    currency,
    work_orders: invoice.workOrders.map((row) => ({
      id: row.id,
      number: row.number.toString(),
      visit_id: row.visitId,
      site_name: row.siteName,
      day: row.day,
      vehicle: row.vehicle,
      numbers: row.numbers,
      missing: [...row.missing],
      repairs: row.repairsMinor === null ? null : formatMinor(row.repairsMinor, currency),
      fee: row.feeMinor === null ? null : formatMinor(row.feeMinor, currency),
      ro_invoiced_on: [...row.roInvoicedOn],
    })),
    waits_for: invoice.waits?.for ?? null,
  };
}
