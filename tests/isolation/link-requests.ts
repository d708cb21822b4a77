import { linkOfNobody } from './approval-requests.ts';
import type { Named } from './holdings.ts';
import type { SampleRequests } from './sample-request.ts';

/** The form of a link's address, which opens nothing: tests/owner-by-link.test.ts opens right ones. */
const nowhere = { token: linkOfNobody };
const owner = { owner_name: 'Ysolde Pell', phone: '212-555-0199', email: 'ysolde.pell@example.com' };
const ofLeft = ({ ownerLeft }: Named) => ({ params: { id: ownerLeft } });

/** Links to vehicle owners, and what is opened by one. */
export const linkApiRequests: Readonly<Record<string, SampleRequests>> = {
  'GET /api/v1/work-orders/:id/links': ofLeft,
  'POST /api/v1/work-orders/:id/owner-links': (named, { ownerLink }) => ({
    ...ofLeft(named),
    json: { id: ownerLink, ...owner },
  }),
  'POST /api/v1/work-orders/:id/links/:link_id/take-back': ({ ownerLeft, ownerLink }) => ({
    params: { id: ownerLeft, link_id: ownerLink },
  }),
  'POST /api/v1/by-link/acceptance': (_named, { acceptance }) => ({
    json: {
      id: acceptance,
      shown_digest: '0'.repeat(64),
      outcome: 'accepted',
      signer_name: 'Ysolde Pell',
      signature: { kind: 'typed', name: 'Ysolde Pell', confirmed: true },
    },
  }),
};

export const linkPageRequests: Readonly<Record<string, SampleRequests>> = {
  'GET /field/work-orders/:id/owner-link': ofLeft,
  'POST /field/work-orders/:id/owner-link': (named, { ownerLink }) => ({
    ...ofLeft(named),
    form: { id: ownerLink, ...owner },
  }),
  'POST /field/work-orders/:id/owner-link/:linkId/take-back': ({ ownerLeft, ownerLink }) => ({
    params: { id: ownerLeft, linkId: ownerLink },
    form: {},
  }),
  'GET /link/:token': () => ({ params: nowhere }),
  'GET /link/:token/photos/:id/view': () => ({ params: { ...nowhere, id: 'none' } }),
  'GET /link/:token/photos/:id/thumb': () => ({ params: { ...nowhere, id: 'none' } }),
  'POST /link/:token/acceptance': () => ({ params: nowhere, form: { outcome: 'accepted' } }),
};
