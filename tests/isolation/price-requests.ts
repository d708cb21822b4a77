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
  'GET /office/price-book/account-prices/:id/end': ({ accountPrice }) => ({ params: { id: accountPrice } }),
  'POST /office/price-book/account-prices/:id/end': ({ accountPrice }) => ({
    params: { id: accountPrice },
    form: { valid_to: '2026-12-30' },
  }),
};
