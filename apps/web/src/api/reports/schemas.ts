import type { AccountId } from '@grainwright/domain';
import { z } from 'zod';
import { dayText, decimalText, idOf, idText, moneyText, monthText } from '../schemas.ts';

export const agingQuery = z.object({
  as_of: dayText.optional().meta({ description: 'Today unless given.' }),
  after: idOf<AccountId>('account that a page before ended with').optional(),
});
export const asOfQuery = z.object({ as_of: dayText.optional().meta({ description: 'Today unless given.' }) });
export const accountParams = z.object({ id: idOf<AccountId>('account') });
export const daysQuery = z.object({
  from: dayText,
  to: dayText.meta({ description: 'The last day in it, a year after the first at most.' }),
});
export const csvAnswer = z.string().meta({ description: 'RFC 4180, with a header row.' });

const basis = z.enum(['due_date', 'document_date']);
const buckets = z.object({
  current: moneyText,
  days_1_30: moneyText,
  days_31_60: moneyText,
  days_61_90: moneyText,
  over_90: moneyText,
});
const aged = {
  buckets,
  unapplied: moneyText.meta({ description: 'Account credit, zero or below.' }),
  balance: moneyText.meta({ description: 'The buckets and the unapplied credit together.' }),
  disputed: moneyText,
};

export const agingAnswer = z
  .object({
    as_of: dayText,
    basis,
    currency: z.string(),
    accounts: z.array(z.object({ id: idText, name: z.string(), short_name: z.string(), ...aged })),
    total: z.object(aged).meta({ description: 'Of all accounts, on whichever page they are.' }),
    ledger: moneyText.meta({ description: 'Receivables less account credit; always the total’s balance.' }),
    next: idText.nullable(),
  })
  .meta({ id: 'Aging' });

export const accountAgingAnswer = z.object({
  id: idText,
  name: z.string(),
  as_of: dayText,
  basis,
  currency: z.string(),
  items: z.array(
    z.object({
      invoice_id: idText,
      number: z.string(),
      issued_on: dayText,
      due_on: dayText,
      open: moneyText,
      disputed: moneyText,
      days_past_due: z.int(),
      bucket: z.enum(['current', 'days_1_30', 'days_31_60', 'days_61_90', 'over_90']),
    }),
  ),
  buckets,
  unapplied: moneyText,
  balance: moneyText,
});

const taxFigures = z.object({
  gross: moneyText.meta({ description: 'exempt + non-taxable + taxable.' }),
  exempt: moneyText,
  exempt_by: z.object({ resale: moneyText, exempt_use: moneyText }),
  non_taxable: moneyText,
  taxable: moneyText,
  taxes: z.array(z.object({ component: z.string(), amount: moneyText })),
  tax: moneyText,
});
const taxParts = {
  invoices: taxFigures,
  credit_notes: taxFigures.meta({ description: 'What comes off.' }),
  voids: taxFigures.meta({ description: 'Voids of invoices of an earlier month: what comes off.' }),
  net: taxFigures,
  reclaimed: moneyText.meta({ description: 'Tax taken back with bad debts.' }),
  payable: moneyText.meta({ description: 'The net tax less what was taken back.' }),
};

export const salesTaxAnswer = z
  .object({
    from: dayText,
    to: dayText,
    basis: z.literal('accrual'),
    currency: z.string(),
    areas: z.array(z.object({ month: monthText, area: z.string(), area_name: z.string(), ...taxParts })),
    total: z.object(taxParts),
    ledger: moneyText.meta({ description: 'What tax payable moved in the same days.' }),
  })
  .meta({ id: 'SalesTaxReport', description: 'Your licensed adviser decides what to file.' });

export const commissionsAnswer = z
  .object({
    from: dayText,
    to: dayText,
    currency: z.string(),
    technicians: z.array(
      z.object({
        person_id: idText,
        name: z.string(),
        labor: moneyText.meta({ description: 'Of repairs with their minimum, as invoiced.' }),
        before_credits: moneyText,
        credits: moneyText.meta({ description: 'What credit notes and voids took back; zero or below.' }),
        after_credits: moneyText,
        vehicles_without_rate: z.int(),
      }),
    ),
    entries: z.array(
      z.object({
        person_id: idText,
        technician: z.string(),
        work_order_id: idText,
        work_order: z.string(),
        vehicle: z.string(),
        worked_on: dayText,
        event: z.enum(['invoiced', 'credited', 'voided']),
        document: z.string(),
        invoice_id: idText,
        date: dayText,
        labor: moneyText,
        percent: decimalText.nullable(),
        commission: moneyText,
        lines: z.array(z.object({ description: z.string(), labor: moneyText })),
      }),
    ),
  })
  .meta({ id: 'Commissions' });

export const figuresAnswer = z
  .object({
    from: dayText,
    to: dayText,
    currency: z.string(),
    comebacks: z.object({
      days: z.int().meta({ description: 'A rework counts within so many days of the first work.' }),
      billed: z.int(),
      came_back: z.int(),
      technicians: z.array(
        z.object({ person_id: idText, name: z.string(), billed: z.int(), came_back: z.int() }),
      ),
    }),
    declined: z.object({ lines: z.int(), whole_work_orders: z.int(), amount: moneyText }),
    savings: z.object({
      vehicles: z.int(),
      cheaper_than_new: z.int(),
      quoted: moneyText,
      repairs: moneyText,
      saved: moneyText,
    }),
    turnaround: z.object({ work_orders: z.int(), median_minutes: z.int().nullable() }),
  })
  .meta({ id: 'Figures' });
