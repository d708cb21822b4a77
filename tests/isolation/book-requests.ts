import type { SampleRequests } from './sample-request.ts';
import { emptyMonth } from './told-books.ts';

const days = { from: '2026-08-01', to: '2026-08-31' };
const asOf = { as_of: '2026-08-05' };
const month = { month: emptyMonth };
const reason = 'a check was forgotten';
const settings = {
  name: 'Pennyloaf Upholstery',
  address: '3 Loaf Lane',
  phone: '555-0177',
  email: 'office@example.com',
  document_note: '',
  estimate_valid_days: '30',
  small_difference: '2.00',
  return_fee: '35.00',
  late_charge_percent: '1',
  late_charge_grace_days: '0',
  duplicate_days: '30',
  comeback_days: '90',
  warranty_days: '90',
  acceptance_link_days: '14',
  acceptance_copy_days: '365',
  certificate_warning_days: '30',
  page_size: 'letter',
};

/** Reports, months of the books, commissions and the business's settings. */
export const bookApiRequests: Readonly<Record<string, SampleRequests>> = {
  'GET /api/v1/reports/aging': ({ account }) => ({ query: { ...asOf, after: account } }),
  'GET /api/v1/reports/aging/:id': ({ account }) => ({ params: { id: account }, query: asOf }),
  'GET /api/v1/reports/sales-tax': () => ({ query: days }),
  'GET /api/v1/reports/sales-tax.csv': () => ({ query: days }),
  'GET /api/v1/reports/commissions': () => ({ query: days }),
  'GET /api/v1/reports/commissions.csv': () => ({ query: days }),
  'GET /api/v1/reports/figures': () => ({ query: days }),
  'POST /api/v1/commission-rates': ({ bookkeeper }, { commissionRate }) => ({
    json: {
      id: commissionRate,
      person_id: bookkeeper,
      percent: '12.5',
      valid_from: '2026-01-01',
      valid_to: '2026-06-30',
    },
  }),
  'POST /api/v1/commission-rates/:id/end': ({ commissionRate }) => ({
    params: { id: commissionRate },
    json: { valid_to: '2026-12-31' },
  }),
  'GET /api/v1/months/:month': () => ({ params: month }),
  'GET /api/v1/months/:month/ledger.csv': () => ({ params: { month: '2026-08' } }),
  'POST /api/v1/months/:month/close': (_named, { monthClosing }) => ({
    params: month,
    json: { id: monthClosing },
  }),
  'POST /api/v1/months/:month/reopen': (_named, { monthReopening }) => ({
    params: month,
    json: { id: monthReopening, reason },
  }),
  'PUT /api/v1/business': () => ({ json: { ...settings, revision: 1, write_off_reclaims_tax: false } }),
  'PUT /api/v1/business/logo': () => ({ photo: {} }),
  'GET /api/v1/business/logo': () => ({}),
  'DELETE /api/v1/business/logo': () => ({}),
};

export const bookPageRequests: Readonly<Record<string, SampleRequests>> = {
  'GET /office/aging': ({ account }) => ({ query: { ...asOf, after: account } }),
  'GET /office/aging/:id': ({ account }) => ({ params: { id: account }, query: asOf }),
  'POST /office/commissions/rates': ({ bookkeeper }, { commissionRate }) => ({
    form: { id: commissionRate, person_id: bookkeeper, percent: '15', valid_from: '2026-07-01' },
  }),
  'POST /office/commissions/rates/:id/end': ({ commissionRate }) => ({
    params: { id: commissionRate },
    form: { valid_to: '2026-12-31' },
  }),
  'GET /office/month-close/:month/ledger.csv': () => ({ params: { month: '2026-08' } }),
  'POST /office/month-close/:month/close': (_named, { monthClosing }) => ({
    params: month,
    form: { id: monthClosing },
  }),
  'POST /office/month-close/:month/reopen': (_named, { monthReopening }) => ({
    params: month,
    form: { id: monthReopening, reason },
  }),
  // What stands there already, whatever came in between.
  'POST /office/business': () => ({ form: { ...settings, revision: '1' } }),
  'POST /office/business/logo': () => ({ photo: {} }),
  'GET /logo': () => ({}),
  'POST /office/business/logo/remove': () => ({ form: {} }),
};
