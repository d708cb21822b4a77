import { approvalApiRequests } from './approval-requests.ts';
import { bookApiRequests } from './book-requests.ts';
import { copyApiRequests } from './copy-requests.ts';
import { draftApiRequests } from './draft-requests.ts';
import { evidencePackApiRequests } from './evidence-pack-requests.ts';
import type { Named } from './holdings.ts';
import { linkApiRequests } from './link-requests.ts';
import { messageApiRequests } from './message-requests.ts';
import { samplePortalApiRequests } from './portal-requests.ts';
import { priceApiRequests } from './price-requests.ts';
import { recordingApiRequests } from './recording-requests.ts';
import { retentionApiRequests } from './retention-requests.ts';
import { sampleCreditApiRequests } from './sample-credit-requests.ts';
import { sampleReceiptApiRequests } from './sample-receipt-requests.ts';
import type { SampleRequests } from './sample-request.ts';
import { sealApiRequests } from './seal-requests.ts';
import { issuedMonth } from './told-statement.ts';
import { sharedVin } from './told-work.ts';
import { turnApiRequests } from './turn-requests.ts';
import { uploadApiRequests } from './upload-requests.ts';
import { waitingApiRequests } from './waiting-requests.ts';

const line = {
  part: 'tailgate_lining',
  damage: 'cut_or_tear',
  observation: 'relaxes_and_lies_down',
  methods: ['cold_grain'],
  measured_inches: '2.2',
  family: 'Vinyl cut or tear',
};
/** The same part of the same vehicle, which all work orders here have. */
const anotherLine = { ...line, another_damage: true };
const login = { password: 'another long password' };
const month = '2026-08';
const ofIssuedMonth = ({ account }: Named) => ({ params: { id: account, month: issuedMonth } });

/** By the route as it is registered. What ends a session is last, since all of these are sent in their order. */
export const sampleApiRequests: Readonly<Record<string, SampleRequests>> = {
  'GET /api/v1/accounts': ({ account }) => ({ query: { after: account, with_ended: 'true' } }),
  'POST /api/v1/accounts': (_named, { account }) => ({
    json: {
      id: account,
      short_name: 'ALSO',
      name: 'Also a Glass Shop',
      kind: 'glass_installer',
      tier_code: 'trade',
      tax_area_code: 'A',
      terms_days: 15,
      statement_kind: 'open_item',
      invoice_rule: 'per_visit',
      acceptance_rule: 'vehicle_owner',
      photo_rule: 'trade',
    },
  }),
  'GET /api/v1/accounts/:id': ({ account }) => ({ params: { id: account } }),
  'PATCH /api/v1/accounts/:id': ({ account }) => ({ params: { id: account }, json: { terms_days: 20 } }),
  'POST /api/v1/accounts/:id/sites': ({ account }, { site }) => ({
    params: { id: account },
    json: { id: site, name: 'Back yard', miles: '3' },
  }),
  'POST /api/v1/accounts/:id/certificates': ({ account }, { certificate }) => ({
    params: { id: account },
    json: {
      id: certificate,
      kind: 'resale',
      number: '4-1',
      valid_from: '2027-01-01',
      valid_to: '2027-12-31',
    },
  }),
  'GET /api/v1/accounts/:id/standing-approvals': ({ account }) => ({ params: { id: account } }),
  'POST /api/v1/accounts/:id/standing-approvals': ({ account }, { standingApproval }) => ({
    params: { id: account },
    json: { id: standingApproval, per_vehicle: '300.00', valid_from: '2028-01-01', text: 'by e-mail' },
  }),
  'POST /api/v1/accounts/:id/standing-approvals/:approval_id/end': ({ account, standingApproval }) => ({
    params: { id: account, approval_id: standingApproval },
    json: { valid_to: '2027-05-31' },
  }),
  'GET /api/v1/accounts/:id/purchase-orders': ({ account }) => ({ params: { id: account } }),
  'POST /api/v1/accounts/:id/purchase-orders': ({ account }, { purchaseOrder }) => ({
    params: { id: account },
    json: { id: purchaseOrder, number: 'PO-9', cap: '650.00', valid_from: '2027-01-01' },
  }),
  'PUT /api/v1/accounts/:id/purchase-orders/:order_id': ({ account, purchaseOrder }) => ({
    params: { id: account, order_id: purchaseOrder },
    json: { cap: '900.00', valid_to: null, note: 'raised' },
  }),
  'POST /api/v1/account-groups': (_named, { accountGroup }) => ({
    json: { id: accountGroup, name: 'Also together' },
  }),
  'POST /api/v1/accounts/:id/contacts': ({ account }, { person, user, membership }) => ({
    params: { id: account },
    json: {
      person_id: person,
      name: 'Lorcan Thistlewood',
      email: `lorcan-${user}@example.com`,
      role: 'viewer',
      login: { user_id: user, membership_id: membership, ...login },
    },
  }),
  'POST /api/v1/accounts/:id/contacts/:person_id/end': ({ account, person }) => ({
    params: { id: account, person_id: person },
  }),
  'POST /api/v1/accounts/:id/contacts/:person_id/resume': ({ account, person }) => ({
    params: { id: account, person_id: person },
  }),
  'GET /api/v1/accounts/:id/statements': ({ account }) => ({ params: { id: account } }),
  'GET /api/v1/accounts/:id/statements/:month': ({ account }) => ({ params: { id: account, month } }),
  'GET /api/v1/accounts/:id/statements/:month.csv': ({ account }) => ({ params: { id: account, month } }),
  'GET /api/v1/accounts/:id/statements/:month.pdf': (named) => ofIssuedMonth(named),
  'GET /api/v1/accounts/:id/statements/:month/content': (named) => ofIssuedMonth(named),
  'POST /api/v1/accounts/:id/statements/:month/mail': (named, { mail }) => ({
    ...ofIssuedMonth(named),
    json: { id: mail },
  }),
  'POST /api/v1/statement-runs': ({ account }, { statementRun }) => ({
    json: { id: statementRun, month: issuedMonth, account_ids: [account] },
  }),
  'GET /api/v1/statement-runs': ({ statementRun }) => ({ query: { before: statementRun } }),
  'GET /api/v1/statement-runs/:id': ({ statementRun }) => ({ params: { id: statementRun } }),
  'POST /api/v1/statement-runs/:id/mail': ({ statementRun }) => ({ params: { id: statementRun } }),
  'GET /api/v1/mails': ({ mail }) => ({ query: { before: mail } }),
  'GET /api/v1/mails/:id': ({ mail }) => ({ params: { id: mail } }),
  'GET /api/v1/mails/:id/attachments/:position': ({ mail }) => ({ params: { id: mail, position: '1' } }),
  'POST /api/v1/mails/:id/resend': ({ mail }) => ({ params: { id: mail } }),
  'GET /api/v1/invoices/:id/invoice.pdf': ({ invoice }) => ({ params: { id: invoice } }),
  'GET /api/v1/credit-notes/:id/credit-note.pdf': ({ creditNote }) => ({ params: { id: creditNote } }),
  'POST /api/v1/staff': (_named, { staffMember, user, membership }) => ({
    json: {
      person_id: staffMember,
      name: 'Maelis Overgate',
      email: `maelis-${user}@example.com`,
      role: 'technician',
      short_name: 'MO',
      login: { user_id: user, membership_id: membership, ...login },
    },
  }),
  'PUT /api/v1/staff/:person_id/prices-by-hand': ({ bookkeeper }) => ({
    params: { person_id: bookkeeper },
    json: { prices_by_hand: true },
  }),
  'POST /api/v1/staff/:person_id/end': ({ bookkeeper }) => ({ params: { person_id: bookkeeper } }),

  'POST /api/v1/price-book/rates': (_named, { rate }) => ({
    json: {
      rates: [
        {
          id: rate,
          code: 'ZZ-1',
          repair: 'Sill repair',
          family: 'Sill',
          list: '90.00',
          materials_percent: '20',
          takes_further_repair: true,
          repairs_damage: true,
          valid_from: '2027-01-01',
        },
      ],
    },
  }),
  'POST /api/v1/price-book/account-prices': ({ account }, { accountPrice }) => ({
    json: {
      id: accountPrice,
      account_id: account,
      code: 'WR-1',
      price: '70.00',
      reason: 'agreed',
      valid_from: '2027-01-01',
    },
  }),
  'POST /api/v1/price-book/:kind/:id/end': ({ accountPrice, rate, tierPrice, contract }) => [
    { params: { kind: 'account-prices', id: accountPrice }, json: { valid_to: '2026-12-30' } },
    { params: { kind: 'rates', id: rate }, json: { valid_to: '2027-12-31' } },
    { params: { kind: 'tier-prices', id: tierPrice }, json: { valid_to: '2032-12-31' } },
    { params: { kind: 'contracts', id: contract }, json: { valid_to: '2032-12-31' } },
  ],
  'POST /api/v1/price-book/tiers': () => ({
    json: { code: 'also', name: 'Also', discount_percent: '5', vehicle_minimum: '50.00' },
  }),
  'POST /api/v1/price-book/care-factors': () => ({ json: { code: 'also', name: 'Also', percent: '110' } }),
  'POST /api/v1/price-book/terms': (_named, { terms }) => ({
    json: {
      id: terms,
      further_repair_percents: ['100', '75'],
      trip: '45.00',
      miles_included: '10',
      mile: '1.10',
      after_hours_percent: '25',
      after_hours_minimum: '40.00',
      deposit_from: '1000.00',
      deposit_percent: '30',
      deposit_step: '10.00',
      valid_from: '2025-01-01',
      valid_to: '2025-12-31',
    },
  }),
  'POST /api/v1/price-book/tax-areas': (_named, { taxArea }) => ({
    json: {
      id: taxArea,
      code: 'Z',
      name: 'Elsewhere',
      components: [{ name: 'State', rate_percent: '5' }],
      taxable: ['materials'],
      valid_from: '2026-01-01',
    },
  }),

  'GET /api/v1/work-orders': ({ account, number, roNumber }) => [
    { query: { account_id: account } },
    { query: { text: number } },
    { query: { text: roNumber } },
  ],
  'GET /api/v1/work-orders/:id': ({ asked }) => ({ params: { id: asked } }),
  'POST /api/v1/work-orders': ({ account, site }, { workOrder, visit }) => ({
    json: {
      id: workOrder,
      visit_id: visit,
      account_id: account,
      site_id: site,
      vin: sharedVin,
      model_year: 2025,
      make: 'Ostra',
      model: 'Vela',
      color: 'gray',
      another_damage: true,
    },
  }),
  'PATCH /api/v1/work-orders/:id': ({ writtenUp }) => ({
    params: { id: writtenUp },
    json: { ro_number: 'R-1' },
  }),
  'POST /api/v1/work-orders/:id/lines': ({ writtenUp }, made) => ({
    params: { id: writtenUp },
    json: { id: made.line, ...anotherLine },
  }),
  'GET /api/v1/accounts/:id/vehicle-look-up': ({ account }) => ({
    params: { id: account },
    query: { vin: sharedVin },
  }),
  'GET /api/v1/work-orders/:id/lines/repeat': ({ writtenUp }) => ({ params: { id: writtenUp } }),
  'POST /api/v1/work-orders/:id/lines/repeat': ({ writtenUp }, made) => ({
    params: { id: writtenUp },
    json: { id: made.repeatedLine, another_damage: true, observation: 'relaxes_and_lies_down' },
  }),
  'GET /api/v1/repair-proposal': () => ({ query: { part: 'tailgate_lining', damage: 'cut_or_tear' } }),
  'PUT /api/v1/work-orders/:id/lines/:line_id': ({ writtenUp, writtenUpLine }) => ({
    params: { id: writtenUp, line_id: writtenUpLine },
    json: { ...line, note: 'twice' },
  }),
  'DELETE /api/v1/work-orders/:id/lines/:line_id': ({ writtenUp, spareLine }) => ({
    params: { id: writtenUp, line_id: spareLine },
  }),
  'POST /api/v1/work-orders/:id/photos': ({ started, startedLine }, { photo }) => ({
    params: { id: started },
    photo: { photo_id: photo, purpose: 'progress', line_id: startedLine },
  }),
  'POST /api/v1/work-orders/:id/estimate/revision': ({ revised, revisedLine, removableLine }, made) => [
    {
      params: { id: revised },
      json: { id: made.revision, changed: [{ id: revisedLine, ...line }], removed: [removableLine] },
    },
    {
      params: { id: revised },
      json: { id: made.secondRevision, added: [{ id: made.addedLine, ...anotherLine }] },
    },
  ],
  'POST /api/v1/work-orders/:id/estimate': ({ ready }, { version }) => ({
    params: { id: ready },
    json: { id: version },
  }),
  'GET /api/v1/work-orders/:id/cautions': ({ approved }) => ({ params: { id: approved } }),
  'POST /api/v1/work-orders/:id/numbers': ({ asked, roNumber }) => ({
    params: { id: asked },
    json: { ro_number: roNumber },
  }),
  'POST /api/v1/work-orders/:id/floor-consent': ({ writtenUp, writtenUpLine }) => ({
    params: { id: writtenUp },
    json: { line_id: writtenUpLine, price: '0.50', reason: 'a favor' },
  }),
  'POST /api/v1/work-orders/:id/seam-release': ({ approved, approvedLine }) => ({
    params: { id: approved },
    json: { line_id: approvedLine, reason: 'the airbag is elsewhere' },
  }),
  'POST /api/v1/work-orders/:id/start': ({ approved }, { start }) => ({
    params: { id: approved },
    json: { id: start, acknowledge: ['heat'] },
  }),
  'POST /api/v1/work-orders/:id/review': ({ started, startedLine }) => ({
    params: { id: started },
    json: { work: [{ line_id: startedLine, methods: ['cold_grain'], layers: '2' }] },
  }),
  'POST /api/v1/work-orders/:id/finish': ({ started, startedLine }) => ({
    params: { id: started },
    json: { work: [{ line_id: startedLine, methods: ['cold_grain'], layers: '2' }] },
  }),
  'GET /api/v1/work-orders/:id/acceptance': ({ finished }) => ({ params: { id: finished } }),
  'POST /api/v1/work-orders/:id/acceptance': ({ finished, finishedDigest }, { acceptance }) => ({
    params: { id: finished },
    json: {
      id: acceptance,
      shown_digest: finishedDigest,
      outcome: 'accepted',
      signer_name: 'Ysolde Pell',
      signer_role: 'vehicle_owner',
      signature: { kind: 'typed', name: 'Ysolde Pell', confirmed: true },
    },
  }),
  ...approvalApiRequests,
  ...evidencePackApiRequests,
  ...linkApiRequests,
  ...copyApiRequests,
  ...messageApiRequests,
  ...waitingApiRequests,
  ...turnApiRequests,
  ...bookApiRequests,
  ...priceApiRequests,
  ...draftApiRequests,
  ...recordingApiRequests,
  ...uploadApiRequests,
  ...retentionApiRequests,
  ...sealApiRequests,

  'POST /api/v1/work-orders/:id/decision-preview': ({ asked, askedLine, askedVersion, askedDigest }) => ({
    params: { id: asked },
    json: {
      version_id: askedVersion,
      digest: askedDigest,
      answers: [{ line_id: askedLine, answer: 'approved' }],
    },
  }),
  'POST /api/v1/work-orders/:id/recorded-decisions': (named, { phonedDecision }) => ({
    params: { id: named.phoned },
    json: {
      id: phonedDecision,
      version_id: named.phonedVersion,
      digest: named.phonedDigest,
      answers: [{ line_id: named.phonedLine, answer: 'approved' }],
      total: named.phonedTotal,
      decided_by: named.person,
      given: 'by_phone',
    },
  }),
  'POST /api/v1/work-orders/:id/decisions': (named, { decision }) => ({
    params: { id: named.asked },
    json: {
      id: decision,
      version_id: named.askedVersion,
      digest: named.askedDigest,
      answers: [{ line_id: named.askedLine, answer: 'approved' }],
      total: named.askedTotal,
    },
  }),

  'GET /api/v1/invoices': ({ account }) => ({ query: { account_id: account } }),
  'GET /api/v1/invoices/ready': ({ account }) => [
    { query: { account_id: account } },
    { query: { after: account } },
  ],
  'POST /api/v1/invoices/preview': ({ accepted }) => ({ json: { work_order_ids: [accepted] } }),
  'POST /api/v1/invoices': ({ accepted }, { invoice }) => ({
    json: { id: invoice, work_order_ids: [accepted] },
  }),
  'POST /api/v1/invoices/ready': ({ account }) => ({ json: { account_ids: [account] } }),
  'GET /api/v1/accounts/:id/certificate-warning': ({ account }) => ({ params: { id: account } }),
  'GET /api/v1/invoices/:id': ({ invoice }) => ({ params: { id: invoice } }),
  'GET /api/v1/payments': ({ account, payment }) => [
    { query: { account_id: account } },
    { query: { before: payment } },
  ],
  ...sampleCreditApiRequests,
  'POST /api/v1/payments': ({ account, openInvoice }, { payment }) => ({
    json: {
      id: payment,
      account_id: account,
      method: 'check',
      amount: '5.00',
      received_on: '2026-08-05',
      applications: [{ invoice_id: openInvoice, amount: '1.00' }],
    },
  }),
  'GET /api/v1/payments/:id': ({ payment }) => ({ params: { id: payment } }),
  'POST /api/v1/payments/:id/applications': ({ unappliedPayment, openInvoice }, { application }) => ({
    params: { id: unappliedPayment },
    json: { id: application, invoice_id: openInvoice, amount: '1.00' },
  }),

  ...sampleReceiptApiRequests,

  ...samplePortalApiRequests,
  'POST /api/v1/sessions': ({ membership }, _made, email) => ({
    json: { email, password: 'a long enough password', membership_id: membership },
  }),
  'POST /api/v1/memberships': () => ({ json: { code: 'of nobody', new_password: 'another long password' } }),
  'POST /api/v1/me/password': () => ({
    json: { old_password: 'not the right one', new_password: 'another long password' },
  }),
  'DELETE /api/v1/sessions/current': () => ({}),
};
