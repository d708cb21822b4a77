import { z } from 'zod';
import { decimalText, idText, moneyText } from '../schemas.ts';

const days = z.string().max(8).meta({ description: 'Whole days, as text.' });
const settings = {
  name: z.string().max(400),
  address: z.string().max(1000),
  phone: z.string().max(100),
  email: z.string().max(400),
  document_note: z.string().max(4000),
  estimate_valid_days: days,
  small_difference: moneyText.meta({ description: 'What may stay open of an invoice and be let go.' }),
  return_fee: moneyText,
  late_charge_percent: decimalText.meta({ description: 'A month, of what is past due; 0: none is charged.' }),
  late_charge_grace_days: days,
  write_off_reclaims_tax: z.boolean(),
  duplicate_days: days,
  comeback_days: days,
  warranty_days: days.meta({
    description: 'For so long the same part is offered as a rework without charge.',
  }),
  acceptance_link_days: days.meta({
    description: 'For so long a link to a vehicle’s owner takes an answer.',
  }),
  acceptance_copy_days: days.meta({
    description: 'For so long a signer can read their copy again by its link.',
  }),
  certificate_warning_days: days,
  page_size: z.enum(['letter', 'a4']),
};

export const businessBody = z.object({
  revision: z.int().meta({ description: 'Of the settings that were read; another one is refused.' }),
  ...settings,
});

export const businessAnswer = z
  .object({
    id: idText,
    revision: z.int(),
    ...settings,
    currency: z.string(),
    time_zone: z.string(),
    invoice_prefix: z.string(),
    credit_note_prefix: z.string(),
    fee_prefix: z.string(),
    tax_components: z.enum(['each', 'together']),
    tax_basis: z.enum(['invoice', 'item']),
    aging_basis: z.enum(['due_date', 'document_date']),
    logo_sha256: z.string().nullable(),
  })
  .meta({ id: 'Business' });
