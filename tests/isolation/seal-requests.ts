import type { Named } from './holdings.ts';
import type { SampleRequests } from './sample-request.ts';
import { issuedMonth } from './told-statement.ts';

const ofWork = ({ paid }: Named) => ({ params: { id: paid } });
const ofInvoice = ({ invoice }: Named) => ({ params: { id: invoice } });
const ofStatement = ({ account }: Named) => ({ params: { id: account, month: issuedMonth } });

/** Seals, keys and who did what. A key asked for twice by its id is the same key. */
export const sealApiRequests: Readonly<Record<string, SampleRequests>> = {
  'GET /api/v1/work-orders/:id/seals': ofWork,
  'GET /api/v1/seal-days/:day': () => ({ params: { day: '2026-08-04' } }),
  'POST /api/v1/seal-keys': (_named, { signingKey }) => ({ json: { id: signingKey } }),
  'GET /api/v1/work-orders/:id/trail': ofWork,
  'GET /api/v1/invoices/:id/trail': ofInvoice,
  'GET /api/v1/accounts/:id/statements/:month/trail': ofStatement,
};

export const sealPageRequests: Readonly<Record<string, SampleRequests>> = {
  'POST /office/seals/keys': (_named, { signingKey }) => ({ form: { id: signingKey } }),
  'GET /office/work-orders/:id/trail': ofWork,
  'GET /office/invoices/:id/trail': ofInvoice,
  'GET /office/accounts/:id/statements/:month/trail': ofStatement,
  'GET /account/work-orders/:id/trail': ofWork,
  'GET /account/invoices/:id/trail': ofInvoice,
  'GET /account/statements/:month/trail': () => ({ params: { month: issuedMonth } }),
};
