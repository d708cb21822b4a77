import type { SampleRequests } from './sample-request.ts';

const regions = [{ kind: 'face', left: 10, top: 10, width: 20, height: 20 }];
const reason = 'a bystander';
const period = { period: '7', unit: 'years' };

/** Coverings of photos, how long things are kept, and what must not be deleted. */
export const retentionApiRequests: Readonly<Record<string, SampleRequests>> = {
  'GET /api/v1/photos/:id/original': ({ photo }) => ({ params: { id: photo } }),
  'GET /api/v1/photos/:id/view': ({ photo }) => ({ params: { id: photo } }),
  'GET /api/v1/photos/:id/thumb': ({ photo }) => ({ params: { id: photo } }),
  'GET /api/v1/photos/:id/uncovered': ({ photo }) => ({ params: { id: photo } }),
  'GET /api/v1/photos/:id/coverings': ({ photo }) => ({ params: { id: photo } }),
  'POST /api/v1/photos/:id/coverings': ({ photo }, { covering }) => ({
    params: { id: photo },
    json: { id: covering, regions, reason },
  }),
  'POST /api/v1/photos/:id/uncoverings': ({ photo }, { uncovering }) => ({
    params: { id: photo },
    json: { id: uncovering, reason },
  }),
  'POST /api/v1/recordings/:id/withholdings': ({ recording }, { covering }) => ({
    params: { id: recording },
    json: { id: covering, reason },
  }),
  'POST /api/v1/recordings/:id/showings': ({ recording }, { uncovering }) => ({
    params: { id: recording },
    json: { id: uncovering, reason },
  }),
  'POST /api/v1/retention/rules': (_named, { retentionRule }) => ({
    json: { id: retentionRule, kind: 'photos', keep: period, reason: '' },
  }),
  'POST /api/v1/retention/switch': (_named, { retentionRule }) => ({
    json: { id: retentionRule, on: true, reason },
  }),
  'POST /api/v1/legal-holds': ({ paid, account }, { legalHold, accountHold }) => [
    { json: { id: legalHold, work_order_id: paid, reason } },
    { json: { id: accountHold, account_id: account, reason } },
  ],
  'POST /api/v1/legal-holds/:id/end': ({ legalHold }) => ({ params: { id: legalHold }, json: { reason } }),
};

export const retentionPageRequests: Readonly<Record<string, SampleRequests>> = {
  'GET /photos/:id/uncovered': ({ photo }) => ({ params: { id: photo } }),
  'GET /office/photos/:id/covering': ({ photo }) => ({ params: { id: photo } }),
  'POST /office/photos/:id/covering': ({ photo }, { covering }) => ({
    params: { id: photo },
    form: { id: covering, kind: 'face', left: '10', top: '10', width: '20', height: '20', reason },
  }),
  'POST /office/photos/:id/uncover': ({ photo }, { uncovering }) => ({
    params: { id: photo },
    form: { id: uncovering, uncover_reason: reason },
  }),
  'GET /office/recordings/:id/withholding': ({ recording }) => ({ params: { id: recording } }),
  'POST /office/recordings/:id/withholding': ({ recording }, { covering }) => ({
    params: { id: recording },
    form: { id: covering, withhold: 'yes', reason },
  }),
  'POST /office/retention/rules': (_named, { retentionRule }) => ({
    form: { id: retentionRule, kind: 'photos', ...period, reason: '' },
  }),
  'POST /office/retention/switch': (_named, { retentionRule }) => ({
    form: { id: retentionRule, on: 'yes', reason, confirmed: 'yes' },
  }),
  'GET /office/work-orders/:id/legal-holds': ({ paid }) => ({ params: { id: paid } }),
  'POST /office/work-orders/:id/legal-holds': ({ paid }, { legalHold }) => ({
    params: { id: paid },
    form: { id: legalHold, reason },
  }),
  'POST /office/work-orders/:id/legal-holds/:holdId/end': ({ accepted, legalHold }) => ({
    params: { id: accepted, holdId: legalHold },
    form: { reason },
  }),
  'GET /office/accounts/:id/legal-holds': ({ account }) => ({ params: { id: account } }),
  'POST /office/accounts/:id/legal-holds': ({ account }, { accountHold }) => ({
    params: { id: account },
    form: { id: accountHold, reason },
  }),
  'POST /office/accounts/:id/legal-holds/:holdId/end': ({ account }, { accountHold }) => ({
    params: { id: account, holdId: accountHold },
    form: { reason },
  }),
};
