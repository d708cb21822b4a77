import { linkOfNobody } from './approval-requests.ts';
import type { Named } from './holdings.ts';
import type { SampleRequests } from './sample-request.ts';

const nowhere = { token: linkOfNobody };
const ofPaid = ({ paid, acceptance }: Named) => ({ id: paid, acceptance_id: acceptance });
const ofPaidPage = ({ paid, acceptance }: Named) => ({ id: paid, acceptanceId: acceptance });
const noCopy = (id: string) => ({ copy_id: id, channel: 'declined', copy_email: '', copy_phone: '' });

/** What is on record of answers, and the copies of them. A copy's id may be any that a client has made. */
export const copyApiRequests: Readonly<Record<string, SampleRequests>> = {
  'GET /api/v1/work-orders/:id/acceptances': ({ paid }) => ({ params: { id: paid } }),
  'GET /api/v1/acceptances/:id/signature': ({ acceptance }) => ({ params: { id: acceptance } }),
  'POST /api/v1/work-orders/:id/acceptances/:acceptance_id/copies': (named, { acceptance }) => ({
    params: ofPaid(named),
    json: { id: acceptance, channel: 'declined' },
  }),
  'POST /api/v1/visits/:id/signatures/:signature_id/copies': (
    { lotVisit, lotSignature },
    { visitSignature },
  ) => ({
    params: { id: lotVisit, signature_id: lotSignature },
    json: { id: visitSignature, channel: 'declined' },
  }),
};

export const copyPageRequests: Readonly<Record<string, SampleRequests>> = {
  'GET /signatures/:id': ({ acceptance }) => ({ params: { id: acceptance } }),
  'GET /link/:token/signatures/:id': () => ({ params: { ...nowhere, id: 'none' } }),
  'POST /field/work-orders/:id/acceptance/:acceptanceId/copy': (named, { acceptance }) => ({
    params: ofPaidPage(named),
    form: noCopy(acceptance),
  }),
  'POST /field/visits/:id/signatures/:signatureId/copy': (
    { lotVisit, lotSignature },
    { visitSignature },
  ) => ({
    params: { id: lotVisit, signatureId: lotSignature },
    form: noCopy(visitSignature),
  }),
  'GET /office/work-orders/:id/acceptances': ({ paid }) => ({ params: { id: paid } }),
  'POST /office/work-orders/:id/acceptances/:acceptanceId/copies': (named, { missingSignature }) => ({
    params: ofPaidPage(named),
    form: noCopy(missingSignature),
  }),
  'POST /office/work-orders/:id/acceptance-copies/:linkId/take-back': ({ ownerLeft, ownerLink }) => ({
    params: { id: ownerLeft, linkId: ownerLink },
    form: {},
  }),
};
