import type { Named } from './holdings.ts';
import type { SampleRequests } from './sample-request.ts';

const days = { valid_from: '2031-01-01', valid_to: '2031-12-31' };
const byNumbers = ({ number, roNumber }: Named) => [{ query: { q: number } }, { query: { q: roNumber } }];

/** What an account’s own people ask and hand in, vehicles by any of their numbers, and what the business checks. */
export const samplePortalApiRequests: Readonly<Record<string, SampleRequests>> = {
  'GET /api/v1/vehicles': ({ account, number, roNumber }) => [
    { query: { account_id: account } },
    { query: { text: number } },
    { query: { text: roNumber } },
  ],
  'POST /api/v1/account/certificates': (_named, { handedIn }) => ({
    json: { id: handedIn, kind: 'resale', number: '4-3', ...days },
  }),
  'GET /api/v1/account/savings': () => ({ query: { from: '2026-01-01', to: '2026-12-31' } }),
  'GET /api/v1/accounts/:id/handed-in-certificates': ({ account }) => ({ params: { id: account } }),
  'POST /api/v1/handed-in-certificates/:id/check': ({ handedIn }) => ({
    params: { id: handedIn },
    json: { answer: 'not_taken', reason: 'the number is of another company' },
  }),
};

export const samplePortalPageRequests: Readonly<Record<string, SampleRequests>> = {
  'GET /office/vehicles': byNumbers,
  'GET /account/vehicles': byNumbers,
  'GET /account/disputes': ({ dispute }) => ({ query: { after: dispute } }),
  'POST /account/certificates/new': (_named, { handedIn }) => ({
    form: { id: handedIn, kind: 'resale', number: '4-4', ...days },
  }),
  'GET /office/handed-in/:id': ({ handedIn }) => ({ params: { id: handedIn } }),
  'POST /office/handed-in/:id': ({ handedIn }) => ({
    params: { id: handedIn },
    form: { answer: 'confirmed', reason: '' },
  }),
};
