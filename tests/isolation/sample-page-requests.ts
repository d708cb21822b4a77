import { approvalPageRequests } from './approval-requests.ts';
import { bookPageRequests } from './book-requests.ts';
import { copyPageRequests } from './copy-requests.ts';
import { draftPageRequests } from './draft-requests.ts';
import { evidencePackPageRequests } from './evidence-pack-requests.ts';
import type { Named } from './holdings.ts';
import { linkPageRequests } from './link-requests.ts';
import { messagePageRequests } from './message-requests.ts';
import { samplePortalPageRequests } from './portal-requests.ts';
import { pricePageRequests } from './price-requests.ts';
import { recordingPageRequests } from './recording-requests.ts';
import { retentionPageRequests } from './retention-requests.ts';
import { sampleCreditPageRequests } from './sample-credit-requests.ts';
import { sampleReceiptPageRequests } from './sample-receipt-requests.ts';
import type { SampleRequest, SampleRequests } from './sample-request.ts';
import { sealPageRequests } from './seal-requests.ts';
import { issuedMonth } from './told-statement.ts';
import { sharedVin } from './told-work.ts';
import { turnPageRequests } from './turn-requests.ts';
import { waitingPageRequests } from './waiting-requests.ts';

const line = {
  step: 'save',
  part: 'tailgate_lining',
  damage: 'cut_or_tear',
  observation: 'relaxes_and_lies_down',
  methods: 'cold_grain',
  measured_inches: '2.2',
  family: 'Vinyl cut or tear',
};
/** The same part of the same vehicle, which all work orders here have. */
const another = { another_damage: 'yes' };
const account = {
  short_name: 'MORE',
  name: 'More Glass Shop',
  kind: 'glass_installer',
  tier_code: 'trade',
  tax_area_code: 'A',
  terms_days: '15',
  statement_kind: 'open_item',
  invoice_rule: 'per_visit',
  acceptance_rule: 'vehicle_owner',
  photo_rule: 'trade',
};
const month = '2026-08';

const ofAccount = (named: Named): SampleRequest => ({ params: { id: named.account } });
const ofContact = (named: Named): SampleRequest => ({
  params: { id: named.account, personId: named.person },
  form: {},
});
const ofIssuedMonth = (named: Named) => ({ params: { id: named.account, month: issuedMonth } });
const ofRun = (named: Named): SampleRequest => ({ params: { id: named.statementRun } });
const ofPhoto = (named: Named): SampleRequest => ({ params: { id: named.photo } });

const answers = ({ asked, askedLine, askedVersion, askedDigest }: Named) => ({
  params: { id: asked },
  form: {
    version_id: askedVersion,
    digest: askedDigest,
    lines: askedLine,
    [`answer-${askedLine}`]: 'approved',
  },
});

/** As `answers`, written down for the contact who gave them. */
const ofApproval = (named: Named): SampleRequest => ({
  params: { id: named.account, approvalId: named.standingApproval },
});
const ofOrder = (named: Named): SampleRequest => ({
  params: { id: named.account, orderId: named.purchaseOrder },
});

const besideAnswers = (named: Named) => {
  const { besideLine: line, besideVersion, besideDigest, person } = named;
  const seen = { decided_by: person, version_id: besideVersion, digest: besideDigest, lines: line };
  return { params: { id: named.beside }, form: { ...seen, [`answer-${line}`]: 'approved' } };
};

const phonedAnswers = (named: Named) => {
  const { phonedLine: line, phonedVersion, phonedDigest, person } = named;
  const said = { decided_by: person, given: 'by_phone' };
  const seen = { version_id: phonedVersion, digest: phonedDigest, lines: line };
  return { params: { id: named.phoned }, form: { ...said, ...seen, [`answer-${line}`]: 'approved' } };
};

/** By the route as it is registered. What ends a session is last, since all of these are sent in their order. */
export const samplePageRequests: Readonly<Record<string, SampleRequests>> = {
  // First, since the account's form takes it out of its group.
  ...sampleReceiptPageRequests,

  'GET /photos/:id/original': ofPhoto,
  'GET /photos/:id/view': ofPhoto,
  'GET /photos/:id/thumb': ofPhoto,

  'GET /field/write-up': (named) => ({ query: { place: `${named.account}.${named.site}` } }),
  'POST /field/write-up': (named, { workOrder, visit }) => ({
    form: {
      place: `${named.account}.${named.site}`,
      id: workOrder,
      visit_id: visit,
      vin: sharedVin,
      model_year: '2025',
      make: 'Ostra',
      model: 'Vela',
      color: 'gray',
      ...another,
    },
  }),
  'GET /field/work-orders/:id': ({ writtenUp }) => ({ params: { id: writtenUp } }),
  'GET /field/work-orders/:id/details': ({ writtenUp }) => ({ params: { id: writtenUp } }),
  'POST /field/work-orders/:id/details': ({ writtenUp }) => ({
    params: { id: writtenUp },
    form: { ro_number: 'R-2' },
  }),
  'GET /field/work-orders/:id/lines/new': ({ writtenUp }) => ({ params: { id: writtenUp } }),
  'POST /field/work-orders/:id/lines/:lineId/remove': (
    { writtenUp, spareLine, revised, removableLine },
    made,
  ) => [
    { params: { id: writtenUp, lineId: spareLine }, form: {} },
    { params: { id: revised, lineId: removableLine }, form: { version_id: made.secondRevision } },
  ],
  'POST /field/work-orders/:id/lines/new': ({ writtenUp, revised }, made) => [
    { params: { id: writtenUp }, form: { ...line, ...another, line_id: made.line } },
    { params: { id: writtenUp }, form: { ...line, step: 'repair', line_id: made.line } },
    {
      params: { id: revised },
      form: { ...line, ...another, line_id: made.addedLine, version_id: made.revision },
    },
  ],
  'POST /field/work-orders/:id/lines/repeat': ({ writtenUp }, made) => ({
    params: { id: writtenUp },
    form: { ...another, line_id: made.repeatedLineByPage },
  }),
  'GET /field/work-orders/:id/lines/:lineId': ({ writtenUp, writtenUpLine }) => [
    { params: { id: writtenUp, lineId: writtenUpLine } },
    { params: { id: writtenUp, lineId: writtenUpLine }, query: { change: 'damage' } },
    { params: { id: writtenUp, lineId: writtenUpLine }, query: { change: 'repair' } },
  ],
  'POST /field/work-orders/:id/lines/:lineId': ({ writtenUp, writtenUpLine }) => ({
    params: { id: writtenUp, lineId: writtenUpLine },
    form: { ...line, note: 'thrice' },
  }),
  'GET /field/work-orders/:id/photos': ({ started, startedLine, photo }) => ({
    params: { id: started },
    query: { line_id: startedLine, purpose: 'progress', kept: photo },
  }),
  'POST /field/work-orders/:id/photos': ({ started, startedLine }, { photo }) => ({
    params: { id: started },
    photo: { photo_id: photo, purpose: 'progress', line_id: startedLine },
  }),
  'POST /field/work-orders/:id/estimate': ({ ready }, { version }) => ({
    params: { id: ready },
    form: { version_id: version },
  }),
  'GET /field/work-orders/:id/start': ({ approved }) => ({ params: { id: approved } }),
  'POST /account/work-orders/:id/numbers': ({ asked, roNumber }) => ({
    params: { id: asked },
    form: { ro_number: roNumber },
  }),
  'POST /field/work-orders/:id/seam-release': ({ approved, approvedLine }) => ({
    params: { id: approved },
    form: { line_id: approvedLine, reason: 'the airbag is elsewhere' },
  }),
  'POST /field/work-orders/:id/start': ({ approved }, { start }) => ({
    params: { id: approved },
    form: { id: start, acknowledge: 'heat' },
  }),
  'GET /field/work-orders/:id/finish': ({ started }) => ({ params: { id: started } }),
  'POST /field/work-orders/:id/finish': ({ started, startedLine }) => ({
    params: { id: started },
    form: {
      described: 'yes',
      line: startedLine,
      [`methods-${startedLine}`]: 'cold_grain',
      [`layers-${startedLine}`]: '2',
    },
  }),
  'GET /field/work-orders/:id/answer': ({ beside }) => ({ params: { id: beside } }),
  'POST /field/work-orders/:id/answer/preview': besideAnswers,
  'POST /field/work-orders/:id/answer': (named, { besideDecision }) => {
    const { params, form } = besideAnswers(named);
    const signed = { signer_name: 'Ysolde Pell', confirmed: 'yes' };
    return {
      params,
      form: { ...form, ...signed, decision_id: besideDecision, total: named.besideTotal },
    };
  },
  'GET /field/work-orders/:id/acceptance': ({ finished }) => ({ params: { id: finished } }),
  'POST /field/work-orders/:id/acceptance': ({ finished, finishedDigest }, { acceptance }) => ({
    params: { id: finished },
    form: {
      id: acceptance,
      shown_digest: finishedDigest,
      outcome: 'accepted',
      signer_name: 'Ysolde Pell',
      signer_role: 'vehicle_owner',
      confirmed: 'yes',
    },
  }),
  'GET /field/work-orders/:id/acceptance/:acceptanceId': ({ paid, acceptance }) => ({
    params: { id: paid, acceptanceId: acceptance },
  }),

  ...approvalPageRequests,
  ...evidencePackPageRequests,
  ...linkPageRequests,
  ...copyPageRequests,
  ...messagePageRequests,
  ...waitingPageRequests,
  ...turnPageRequests,
  ...bookPageRequests,
  ...pricePageRequests,
  ...draftPageRequests,
  ...recordingPageRequests,
  ...retentionPageRequests,
  ...sealPageRequests,

  'GET /office/work-orders': (named) => [
    { query: { account: named.account } },
    { query: { q: named.number } },
    { query: { q: named.roNumber } },
  ],
  'GET /office/work-orders/:id': ({ asked }) => ({ params: { id: asked } }),
  'POST /office/work-orders/:id/numbers': ({ asked }) => ({
    params: { id: asked },
    form: { ro_number: 'R-3', po_number: '' },
  }),
  'POST /office/work-orders/:id/preview': phonedAnswers,
  'POST /office/work-orders/:id/decision': (named, { phonedDecision }) => {
    const { params, form } = phonedAnswers(named);
    return { params, form: { ...form, decision_id: phonedDecision, total: named.phonedTotal } };
  },
  'GET /office/accounts': (named) => ({ query: { after: named.account } }),
  'POST /office/accounts/new': (_named, made) => ({ form: { ...account, id: made.account } }),
  'GET /office/accounts/:id': ofAccount,
  'GET /office/accounts/:id/edit': ofAccount,
  'POST /office/accounts/:id/edit': (named) => ({
    ...ofAccount(named),
    form: { ...account, short_name: 'CHANGED' },
  }),
  'GET /office/accounts/:id/sites/new': ofAccount,
  'POST /office/accounts/:id/sites/new': (named, { site }) => ({
    ...ofAccount(named),
    form: { id: site, name: 'Front yard', miles: '3' },
  }),
  'GET /office/accounts/:id/contacts/new': ofAccount,
  'POST /office/accounts/:id/contacts/new': (named, { person, user, membership }) => ({
    ...ofAccount(named),
    form: {
      person_id: person,
      user_id: user,
      membership_id: membership,
      name: 'Lorcan Thistlewood',
      email: `lorcan-${user}@example.com`,
      role: 'viewer',
      signs_in: 'yes',
      password: 'another long password',
    },
  }),
  'GET /office/accounts/:id/certificates/new': ofAccount,
  'POST /office/accounts/:id/certificates/new': (named, { certificate }) => ({
    ...ofAccount(named),
    form: {
      id: certificate,
      kind: 'resale',
      number: '4-2',
      valid_from: '2028-01-01',
      valid_to: '2028-12-31',
    },
  }),
  'GET /office/accounts/:id/prices/new': ofAccount,
  'POST /office/accounts/:id/prices/new': (named, { accountPrice }) => ({
    ...ofAccount(named),
    form: { id: accountPrice, code: 'WR-1', price: '70.00', reason: 'agreed', valid_from: '2029-01-01' },
  }),
  'GET /office/accounts/:id/standing-approvals/new': ofAccount,
  'POST /office/accounts/:id/standing-approvals/new': (named, { standingApproval }) => ({
    ...ofAccount(named),
    form: { id: standingApproval, per_vehicle: '300.00', text: 'by e-mail', valid_from: '2029-01-01' },
  }),
  'GET /office/accounts/:id/standing-approvals/:approvalId/end': ofApproval,
  'POST /office/accounts/:id/standing-approvals/:approvalId/end': (named) => ({
    ...ofApproval(named),
    form: { valid_to: '2027-04-30' },
  }),
  'GET /office/accounts/:id/purchase-orders/new': ofAccount,
  'POST /office/accounts/:id/purchase-orders/new': (named, { purchaseOrder }) => ({
    ...ofAccount(named),
    form: { id: purchaseOrder, number: 'PO-10', cap: '650.00', valid_from: '2027-01-01' },
  }),
  'GET /office/accounts/:id/purchase-orders/:orderId/change': ofOrder,
  'POST /office/accounts/:id/purchase-orders/:orderId/change': (named) => ({
    ...ofOrder(named),
    form: { cap: '950.00' },
  }),
  'POST /office/accounts/:id/contacts/:personId/end': ofContact,
  'POST /office/accounts/:id/contacts/:personId/resume': ofContact,
  'GET /office/accounts/:id/statements/:month': (named) => ({ params: { id: named.account, month } }),
  'GET /office/accounts/:id/statements/:month.csv': (named) => ({ params: { id: named.account, month } }),
  'GET /office/accounts/:id/statements/:month.pdf': ofIssuedMonth,
  'POST /office/accounts/:id/statements/:month/mail': (named, { mail }) => ({
    ...ofIssuedMonth(named),
    form: { mail_id: mail },
  }),
  'POST /office/statements/runs': ({ account }, { statementRun }) => ({
    form: { run_id: statementRun, month: issuedMonth, account_ids: account },
  }),
  'GET /office/statements/runs/:id': ofRun,
  'GET /office/statements/runs/:id/progress': ofRun,
  'POST /office/statements/runs/:id/mail': (named) => ({ ...ofRun(named), form: {} }),
  'GET /office/mailbox': ({ mail }) => ({ query: { before: mail } }),
  'GET /office/mailbox/:id': ({ mail }) => ({ params: { id: mail } }),
  'GET /office/mailbox/:id/attachments/:position': ({ mail }) => ({ params: { id: mail, position: '1' } }),
  'POST /office/mailbox/:id/resend': ({ mail }) => ({ params: { id: mail }, form: {} }),
  'GET /office/invoices/:id/invoice.pdf': ({ invoice }) => ({ params: { id: invoice } }),
  'GET /office/credit-notes/:id/credit-note.pdf': ({ creditNote }) => ({ params: { id: creditNote } }),
  'GET /account/invoices/:id/invoice.pdf': ({ invoice }) => ({ params: { id: invoice } }),
  'GET /account/credit-notes/:id/credit-note.pdf': ({ creditNote }) => ({ params: { id: creditNote } }),
  'GET /account/statements/:month.pdf': () => ({ params: { month: issuedMonth } }),
  'GET /office/statements': (named) => [
    { query: { account: named.account } },
    { query: { account: named.account, month } },
  ],
  'GET /office/invoices': (named) => ({ query: { account: named.account } }),
  'GET /office/invoices/ready': ({ account }) => [{ query: { account } }, { query: { after: account } }],
  'POST /office/invoices/preview': ({ accepted }, { invoice }) => ({
    form: { invoice_id: invoice, work_order_ids: accepted },
  }),
  'POST /office/invoices': ({ accepted }, { invoice }) => ({
    form: { invoice_id: invoice, work_order_ids: accepted },
  }),
  'POST /office/invoices/ready': ({ account }) => ({ form: { account } }),
  'GET /office/invoices/:id': ({ invoice }) => ({ params: { id: invoice } }),
  'GET /office/payments': (named) => [
    { query: { account: named.account } },
    { query: { before: named.payment } },
  ],
  'GET /office/payments/new': (named) => ({ query: { account: named.account } }),
  'POST /office/payments/new': (named, { payment }) => ({
    form: {
      account: named.account,
      payment_id: payment,
      method: 'check',
      amount: '5.00',
      received_on: '2026-08-05',
      invoice_id: named.openInvoice,
      [`applied-${named.openInvoice}`]: '1.00',
    },
  }),
  'GET /office/payments/:id': ({ payment }) => ({ params: { id: payment } }),
  ...sampleCreditPageRequests,
  'POST /office/payments/:id/applications': ({ unappliedPayment, openInvoice }, { application }) => ({
    params: { id: unappliedPayment },
    form: { application_id: application, invoice_id: openInvoice, amount: '1.00' },
  }),

  'GET /account/work-orders': ({ number, roNumber }) => [
    { query: { q: number } },
    { query: { q: roNumber } },
  ],
  'GET /account/work-orders/:id': ({ asked }) => ({ params: { id: asked } }),
  'POST /account/work-orders/:id/preview': answers,
  'POST /account/work-orders/:id/decision': (named, { decision }) => {
    const { params, form } = answers(named);
    return { params, form: { ...form, decision_id: decision, total: named.askedTotal } };
  },
  'GET /account/invoices/:id': ({ invoice }) => ({ params: { id: invoice } }),
  'GET /account/statements/:month': () => ({ params: { month } }),
  'GET /account/statements/:month.csv': () => ({ params: { month } }),

  ...samplePortalPageRequests,
  'POST /sign-in': (_named, _made, email) => ({ form: { email, password: 'a long enough password' } }),
  'POST /join-business': () => ({ form: { code: 'of nobody', new_password: 'another long password' } }),
  'POST /password': () => ({
    form: { old_password: 'not the right one', new_password: 'another long password' },
  }),
  'POST /choose-business': ({ membership }) => ({ form: { membership_id: membership } }),
  'POST /sign-out': () => ({ form: {} }),
};
