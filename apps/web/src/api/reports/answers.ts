import { type agingBuckets, formatMinor, type SalesTaxReport, type TaxFigures } from '@grainwright/domain';
import type { AccountAgingView, AgedFigures, AgingView, SalesTaxView } from '@grainwright/operations';
import type { z } from 'zod';
import type { accountAgingAnswer, agingAnswer, salesTaxAnswer } from './schemas.ts';

export function answerAging(view: AgingView): z.input<typeof agingAnswer> {
  const { currency } = view;
  return {
    as_of: view.asOf,
    basis: view.basis,
    currency,
    accounts: view.accounts.map((each) => ({
      id: each.accountId,
      name: each.name,
      short_name: each.shortName,
      ...answerAged(each, currency),
    })),
    total: answerAged(view.total, currency),
    ledger: formatMinor(view.ledgerMinor, currency),
    next: view.next,
  };
}

export function answerAccountAging(view: AccountAgingView): z.input<typeof accountAgingAnswer> {
  const amount = (minor: bigint) => formatMinor(minor, view.currency);
  return {
    id: view.accountId,
    name: view.name,
    as_of: view.asOf,
    basis: view.basis,
    currency: view.currency,
    items: view.items.map((item) => ({
      invoice_id: item.invoiceId,
      number: item.number,
      issued_on: item.issuedOn,
      due_on: item.dueOn,
      open: amount(item.openMinor),
      disputed: amount(item.disputedMinor),
      days_past_due: item.daysPastDue,
      bucket: item.bucket,
    })),
    buckets: answerBuckets(view.buckets, view.currency),
    unapplied: amount(view.unappliedMinor),
    balance: amount(view.balanceMinor),
  };
}

export function answerSalesTax(view: SalesTaxView): z.input<typeof salesTaxAnswer> {
  const { currency } = view;
  return {
    from: view.from,
    to: view.to,
    basis: 'accrual',
    currency,
    areas: view.rows.map((row) => ({
      month: row.month,
      area: row.areaCode,
      area_name: row.areaName,
      ...answerTaxParts(row, currency),
    })),
    total: answerTaxParts(view.total, currency),
    ledger: formatMinor(view.ledgerMinor, currency),
  };
}

function answerAged(aged: AgedFigures, currency: string) {
  return {
    buckets: answerBuckets(aged.buckets, currency),
    unapplied: formatMinor(aged.unappliedMinor, currency),
    balance: formatMinor(aged.balanceMinor, currency),
    disputed: formatMinor(aged.disputedMinor, currency),
  };
}

function answerBuckets(buckets: AgedFigures['buckets'], currency: string) {
  const amount = (place: (typeof agingBuckets)[number]) => formatMinor(buckets[place], currency);
  return {
    current: amount('current'),
    days_1_30: amount('days_1_30'),
    days_31_60: amount('days_31_60'),
    days_61_90: amount('days_61_90'),
    over_90: amount('over_90'),
  };
}

function answerTaxParts(parts: SalesTaxReport['total'], currency: string) {
  return {
    invoices: answerFigures(parts.invoices, currency),
    credit_notes: answerFigures(parts.creditNotes, currency),
    voids: answerFigures(parts.voids, currency),
    net: answerFigures(parts.net, currency),
    reclaimed: formatMinor(parts.reclaimedMinor, currency),
    payable: formatMinor(parts.payableMinor, currency),
  };
}

function answerFigures(figures: TaxFigures, currency: string) {
  const amount = (minor: bigint) => formatMinor(minor, currency);
  return {
    gross: amount(figures.grossMinor),
    exempt: amount(figures.exemptMinor),
    exempt_by: {
      resale: amount(figures.exemptions.resale),
      exempt_use: amount(figures.exemptions.exempt_use),
    },
    non_taxable: amount(figures.nonTaxableMinor),
    taxable: amount(figures.taxableMinor),
    taxes: figures.taxes.map((tax) => ({ component: tax.component, amount: amount(tax.amountMinor) })),
    tax: amount(figures.taxMinor),
  };
}
