import type { SampleRequest, SampleRequests } from './sample-request.ts';

const from = { valid_from: '2027-03-01' };
/** Both faces work in one business, so the pages come after the API. */
const later = { valid_from: '2027-05-01' };
const repair = { repair: 'Steering wheel rim, whole', list: '299.00', materials_percent: '10' };
const tier = { discount_percent: '20', vehicle_minimum: '130.00', trip_waived_from: '450.00' };
const ofCode = (code: string): SampleRequest => ({ params: { code } });

/** The next periods of what is in the price book, and the board. */
export const priceApiRequests: Readonly<Record<string, SampleRequests>> = {
  'GET /api/v1/board': ({ account, bookkeeper }) => [
    { query: { account_id: account } },
    { query: { technician_id: bookkeeper } },
  ],
  'POST /api/v1/price-book/tier-prices': (_named, { tierPrice }) => ({
    json: { id: tierPrice, tier: 'lot', code: 'RI-1', price: '60.00', reason: 'asked for', ...from },
  }),
  'POST /api/v1/price-book/contracts': ({ account }, { contract }) => ({
    json: {
      id: contract,
      account_id: account,
      name: 'Spring',
      discount_percent: '8',
      reason: 'asked for',
      ...from,
      valid_to: '2027-04-30',
    },
  }),
  'POST /api/v1/price-book/rates/:code/periods': (_named, { ratePeriod }) => ({
    ...ofCode('SW-L'),
    json: { id: ratePeriod, ...repair, ...from },
  }),
  'POST /api/v1/price-book/tiers/:code/periods': (_named, { tierTerms }) => ({
    ...ofCode('trade'),
    json: { id: tierTerms, ...tier, ...from },
  }),
  'POST /api/v1/price-book/care-factors/:code/periods': (_named, { carePercent }) => ({
    ...ofCode('new'),
    json: { id: carePercent, percent: '115', ...from },
  }),
  'POST /api/v1/price-book/tax-areas/:code/rates': (_named, { taxRate }) => ({
    ...ofCode('A'),
    json: { id: taxRate, component: 'Local', rate_percent: '1.75', ...from },
  }),
  'POST /api/v1/price-book/tax-areas/:code/classes': (_named, { taxClasses }) => ({
    ...ofCode('A'),
    json: { id: taxClasses, taxable: ['materials', 'labor'], ...from },
  }),
};

export const pricePageRequests: Readonly<Record<string, SampleRequests>> = {
  'GET /office/board': ({ account, bookkeeper }) => [
    { query: { account } },
    { query: { technician: bookkeeper } },
  ],
  'POST /office/price-book/rates/new': (_named, { rate }) => ({
    form: {
      id: rate,
      code: 'ZZ-2',
      family: 'Pillar',
      takes_further_repair: 'yes',
      repairs_damage: 'yes',
      ...repair,
      ...later,
    },
  }),
  'GET /office/price-book/rates/:code': () => ofCode('SW-L'),
  'POST /office/price-book/rates/:code': (_named, { ratePeriod }) => ({
    ...ofCode('SW-L'),
    form: { id: ratePeriod, ...repair, ...later },
  }),
  'POST /office/price-book/rates/:code/end': ({ rate }) => ({
    ...ofCode('SW-L'),
    form: { ended_id: rate, valid_to: '2027-12-31' },
  }),
  'GET /office/price-book/tiers/:code': () => ofCode('trade'),
  'POST /office/price-book/tiers/:code': (_named, { tierTerms }) => ({
    ...ofCode('trade'),
    form: { id: tierTerms, ...tier, ...later },
  }),
  'GET /office/price-book/care-factors/:code': () => ofCode('new'),
  'POST /office/price-book/care-factors/:code': (_named, { carePercent }) => ({
    ...ofCode('new'),
    form: { id: carePercent, percent: '115', ...later },
  }),
  'GET /office/price-book/tax-areas/:code': () => ofCode('A'),
  'POST /office/price-book/tax-areas/:code/rates': (_named, { taxRate }) => ({
    ...ofCode('A'),
    form: { id: taxRate, component: 'Local', rate_percent: '1.75', ...later },
  }),
  'POST /office/price-book/tax-areas/:code/classes': (_named, { taxClasses }) => ({
    ...ofCode('A'),
    form: { id: taxClasses, materials: 'yes', labor: 'yes', ...later },
  }),
  'POST /office/price-book/terms': (_named, { terms }) => ({
    form: {
      id: terms,
      further_repair_percents: '100, 75',
      trip: '45.00',
      miles_included: '10',
      mile: '1.10',
      'trip_zones.0.name': 'Valley',
      'trip_zones.0.up_to_miles': '20',
      'trip_zones.0.amount': '45.00',
      after_hours_percent: '25',
      after_hours_minimum: '40.00',
      rush_percent: '30',
      rush_minimum: '40.00',
      deposit_from: '1000.00',
      deposit_percent: '30',
      deposit_step: '10.00',
      ...later,
    },
  }),
  'GET /office/price-book/account-prices/:id/end': ({ accountPrice }) => ({ params: { id: accountPrice } }),
  'POST /office/price-book/account-prices/:id/end': ({ accountPrice }) => ({
    params: { id: accountPrice },
    form: { valid_to: '2026-12-30' },
  }),
  'GET /office/price-book/tier-prices/:id/end': ({ tierPrice }) => ({ params: { id: tierPrice } }),
  'POST /office/price-book/tier-prices/:id/end': ({ tierPrice }) => ({
    params: { id: tierPrice },
    form: { valid_to: '2032-12-31' },
  }),
  'GET /office/price-book/contracts/:id/end': ({ contract }) => ({ params: { id: contract } }),
  'POST /office/price-book/contracts/:id/end': ({ contract }) => ({
    params: { id: contract },
    form: { valid_to: '2032-12-31' },
  }),
  'GET /office/price-book/tiers/:code/prices/new': () => ofCode('lot'),
  'POST /office/price-book/tiers/:code/prices/new': (_named, { tierPrice }) => ({
    ...ofCode('lot'),
    form: { id: tierPrice, code: 'CM-1', price: '60.00', reason: 'asked for', ...later },
  }),
  'GET /office/accounts/:id/contracts/new': ({ account }) => ({ params: { id: account } }),
  'POST /office/accounts/:id/contracts/new': ({ account }, { contract }) => ({
    params: { id: account },
    form: {
      id: contract,
      name: 'Summer',
      discount_percent: '8',
      reason: 'asked for',
      ...later,
      valid_to: '2027-06-30',
    },
  }),
  'POST /office/work-orders/:id/floor-consent': ({ writtenUp, writtenUpLine }) => ({
    params: { id: writtenUp },
    form: { line_id: writtenUpLine, price: '0.40', reason: 'a favor' },
  }),
};
