import type { Named } from './holdings.ts';
import type { SampleRequests } from './sample-request.ts';
import { plannedDay } from './told-turns.ts';

const signed = {
  outcome: 'accepted',
  signer_name: 'Ysolde Pell',
  signature: { kind: 'typed', name: 'Ysolde Pell', confirmed: true },
};
const ofKey = ({ writtenUp, keyLine }: Named) => ({ params: { id: writtenUp, lineId: keyLine } });

/** What happens to work besides being done and paid. */
export const turnApiRequests: Readonly<Record<string, SampleRequests>> = {
  'GET /api/v1/work-orders/:id/earlier-work': ({ asked }) => ({ params: { id: asked } }),
  'POST /api/v1/work-orders/:id/hold': ({ writtenUp }) => ({
    params: { id: writtenUp },
    json: { reason: 'the account is past due' },
  }),
  'POST /api/v1/work-orders/:id/hold-lift': ({ writtenUp }) => ({
    params: { id: writtenUp },
    json: { reason: 'paid' },
  }),
  'POST /api/v1/work-orders/:id/void': ({ voidable, notThere, asked }) => [
    { params: { id: notThere }, json: { reason: 'vehicle_not_there' } },
    { params: { id: voidable }, json: { reason: 'duplicate', duplicate_of_id: asked } },
  ],
  'POST /api/v1/work-orders/:id/reworks': ({ paid, site }, { rework }) => ({
    params: { id: paid },
    json: { id: rework, site_id: site, reason: 'finish' },
  }),
  'POST /api/v1/work-orders/:id/key-tests': ({ writtenUp, keyLine }, { keyTest }) => ({
    params: { id: writtenUp },
    json: { id: keyTest, line_id: keyLine, battery: 'pass' },
  }),
  'POST /api/v1/work-orders/:id/stop-points': ({ started, startedLine, stopPhoto }, { stopPoint }) => ({
    params: { id: started },
    json: { id: stopPoint, line_id: startedLine, photo_id: stopPhoto, note: 'an edge stays' },
  }),
  'POST /api/v1/work-orders/:id/missing-signatures': ({ unsigned }, { missingSignature }) => ({
    params: { id: unsigned },
    json: { id: missingSignature, why: 'refused', reason: 'wants a new panel', witness: 'Ysolde Pell' },
  }),
  'POST /api/v1/work-orders/:id/acceptance-release': ({ unsigned }) => ({
    params: { id: unsigned },
    json: { reason: 'the account vouches for it' },
  }),
  'GET /api/v1/visits/:id/acceptance': ({ lotVisit }) => ({ params: { id: lotVisit } }),
  'POST /api/v1/visits/:id/acceptance': ({ lotVisit, lotWork, lotDigest }, { visitSignature }) => ({
    params: { id: lotVisit },
    json: {
      id: visitSignature,
      work_orders: [{ work_order_id: lotWork, shown_digest: lotDigest }],
      ...signed,
      signer_role: 'account_representative',
    },
  }),
  'GET /api/v1/work-orders/:id/quotes': ({ started }) => ({ params: { id: started } }),
  'POST /api/v1/work-orders/:id/quotes': ({ writtenUp }, { quote }) => ({
    params: { id: writtenUp },
    json: { id: quote, part: 'tailgate_lining', amount: '940.00' },
  }),
  'DELETE /api/v1/work-orders/:id/quotes/:quote_id': ({ started, quote }) => ({
    params: { id: started, quote_id: quote },
  }),
  'GET /api/v1/visits/:id': ({ lotVisit }) => ({ params: { id: lotVisit } }),
  'POST /api/v1/stops': ({ account, site, stopPerson }, { plannedStop }) => ({
    json: {
      id: plannedStop,
      technician_id: stopPerson,
      account_id: account,
      site_id: site,
      day: '2026-09-18',
    },
  }),
  'DELETE /api/v1/stops/:id': ({ emptyStop }) => ({ params: { id: emptyStop } }),
  'PUT /api/v1/stops/order': ({ stop, stopPerson }) => ({
    json: { technician_id: stopPerson, day: plannedDay, visit_ids: [stop] },
  }),
};

export const turnPageRequests: Readonly<Record<string, SampleRequests>> = {
  'GET /field/work-orders/:id/not-there': ({ notThere }) => ({ params: { id: notThere } }),
  'POST /field/work-orders/:id/not-there': ({ notThere }) => ({
    params: { id: notThere },
    form: { note: 'sold' },
  }),
  'GET /field/work-orders/:id/rework': ({ paid }) => ({ params: { id: paid } }),
  'POST /field/work-orders/:id/rework': ({ paid }, { rework }) => ({
    params: { id: paid },
    form: { id: rework, reason: 'finish' },
  }),
  'GET /field/work-orders/:id/key-test/:lineId': ofKey,
  'POST /field/work-orders/:id/key-test/:lineId': (named, { keyTest }) => ({
    ...ofKey(named),
    form: { id: keyTest, battery: 'pass' },
  }),
  'GET /field/work-orders/:id/stop-points': ({ started }) => ({ params: { id: started } }),
  'POST /field/work-orders/:id/stop-points': ({ started, stopPhoto }, { stopPoint }) => ({
    params: { id: started },
    form: { id: stopPoint, photo_id: stopPhoto, note: 'an edge stays' },
  }),
  'GET /field/work-orders/:id/not-signed': ({ unsigned }) => ({ params: { id: unsigned } }),
  'POST /field/work-orders/:id/not-signed': ({ unsigned }, { missingSignature }) => ({
    params: { id: unsigned },
    form: { id: missingSignature, why: 'refused', reason: 'wants a new panel', witness: 'Ysolde Pell' },
  }),
  'GET /field/visits/:id/acceptance': ({ lotVisit }) => ({ params: { id: lotVisit } }),
  'POST /field/visits/:id/acceptance': ({ lotVisit, lotWork, lotDigest }, { visitSignature }) => ({
    params: { id: lotVisit },
    form: {
      id: visitSignature,
      work_orders: lotWork,
      [`digest-${lotWork}`]: lotDigest,
      outcome: 'accepted',
      signer_name: 'Ysolde Pell',
      signer_role: 'account_representative',
      confirmed: 'yes',
    },
  }),
  'GET /field/visits/:id/signatures/:signatureId': ({ lotVisit, lotSignature }) => ({
    params: { id: lotVisit, signatureId: lotSignature },
  }),

  'GET /field/work-orders/:id/quotes': ({ started }) => ({ params: { id: started } }),
  'POST /field/work-orders/:id/quotes': ({ writtenUp }, { quote }) => ({
    params: { id: writtenUp },
    form: { id: quote, part: 'tailgate_lining', amount: '940.00' },
  }),
  'POST /field/work-orders/:id/quotes/:quoteId/take-back': ({ started, quote }) => ({
    params: { id: started, quoteId: quote },
    form: {},
  }),
  'GET /field/stops/:visitId': ({ lotVisit }) => ({ params: { visitId: lotVisit } }),
  // Of the own day, which has no stop here.
  'POST /field/stops/order': () => ({ form: { day: '2026-09-16' } }),

  'POST /office/stops': ({ account, site, stopPerson }, { plannedStop }) => ({
    form: { id: plannedStop, technician_id: stopPerson, place: `${account}.${site}`, day: '2026-09-18' },
  }),
  'POST /office/stops/:visitId/drop': ({ emptyStop }) => ({
    params: { visitId: emptyStop },
    form: { day: '2026-09-17' },
  }),
  'POST /office/stops/order': ({ stop, stopPerson }) => ({
    form: { technician_id: stopPerson, day: plannedDay, visit_ids: stop },
  }),
  'POST /office/work-orders/:id/hold': ({ writtenUp }) => ({
    params: { id: writtenUp },
    form: { reason: 'past due' },
  }),
  'POST /office/work-orders/:id/hold-lift': ({ writtenUp }) => ({ params: { id: writtenUp }, form: {} }),
  'POST /office/work-orders/:id/acceptance-release': ({ unsigned }) => ({
    params: { id: unsigned },
    form: { reason: 'the account vouches for it' },
  }),
  'POST /office/work-orders/:id/void': ({ voidable, number }) => ({
    params: { id: voidable },
    form: { reason: 'duplicate', duplicate_of: number },
  }),
};
