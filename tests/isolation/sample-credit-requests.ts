import type { SampleRequests } from './sample-request.ts';

/** Credit notes, disputes, write-offs, discounts and voids, in the order in which they can be done. */
export const sampleCreditApiRequests: Readonly<Record<string, SampleRequests>> = {
  'POST /api/v1/credit-notes/preview': ({ creditedInvoice, creditedLine }) => ({
    json: {
      invoice_id: creditedInvoice,
      reason: 'measured again',
      lines: [{ kind: 'reduced', line_id: creditedLine, net: '15.00' }],
    },
  }),
  'POST /api/v1/credit-notes': ({ creditedInvoice, creditedLine }, { creditNote }) => ({
    json: {
      id: creditNote,
      invoice_id: creditedInvoice,
      reason: 'measured again',
      lines: [{ kind: 'reduced', line_id: creditedLine, net: '15.00' }],
    },
  }),
  'GET /api/v1/credit-notes': ({ account }) => ({ query: { account_id: account } }),
  'GET /api/v1/credit-notes/:id': ({ creditNote }) => ({ params: { id: creditNote } }),
  'POST /api/v1/credit-notes/:id/applications': ({ creditNote, openInvoice }, { application }) => ({
    params: { id: creditNote },
    json: { id: application, invoice_id: openInvoice, amount: '0.10' },
  }),
  'POST /api/v1/disputes': ({ creditedInvoice, creditedLine }, { dispute }) => ({
    json: {
      id: dispute,
      invoice_id: creditedInvoice,
      line_id: creditedLine,
      amount: '0.10',
      reason: 'disputed',
    },
  }),
  'GET /api/v1/disputes': ({ account, dispute }) => ({ query: { account_id: account, after: dispute } }),
  'GET /api/v1/disputes/:id': ({ dispute }) => ({ params: { id: dispute } }),
  'POST /api/v1/disputes/:id/answer': ({ dispute }) => ({
    params: { id: dispute },
    json: { answer: 'upheld', note: 'the approved version shows it' },
  }),
  'POST /api/v1/write-offs': ({ creditedInvoice }, { writeOff }) => ({
    json: {
      id: writeOff,
      invoice_id: creditedInvoice,
      amount: '0.10',
      kind: 'bad_debt',
      reason: 'has ceased trading',
    },
  }),
  'POST /api/v1/write-offs/:id/recovery': ({ writeOff }) => ({
    params: { id: writeOff },
    json: { reason: 'is paid after all' },
  }),
  'POST /api/v1/discounts': ({ creditedInvoice }, { discount }) => ({
    json: { id: discount, invoice_id: creditedInvoice, amount: '0.10', reason: '2 % within 10 days' },
  }),
  'POST /api/v1/invoices/:id/void': ({ voidableInvoice }) => ({
    params: { id: voidableInvoice },
    json: { reason: 'made out to the wrong account' },
  }),
};

export const sampleCreditPageRequests: Readonly<Record<string, SampleRequests>> = {
  'GET /office/credit-notes': ({ account }) => ({ query: { account } }),
  'GET /office/credit-notes/:id': ({ creditNote }) => ({ params: { id: creditNote } }),
  'POST /office/credit-notes/:id/applications': ({ creditNote, openInvoice }, { application }) => ({
    params: { id: creditNote },
    form: { application_id: application, invoice_id: openInvoice, amount: '0.10' },
  }),
  'GET /office/invoices/:id/credit': ({ creditedInvoice }) => ({ params: { id: creditedInvoice } }),
  'POST /office/invoices/:id/credit': ({ creditedInvoice, creditedLine }, { creditNote }) => ({
    params: { id: creditedInvoice },
    form: {
      credit_note_id: creditNote,
      [`line-${creditedLine}`]: 'reduced',
      [`net-${creditedLine}`]: '15.00',
      reason: 'measured again',
      issued_on: '2026-08-05',
    },
  }),
  'GET /office/disputes': ({ account, dispute }) => ({ query: { account, after: dispute } }),
  'GET /office/disputes/:id': ({ dispute }) => ({ params: { id: dispute } }),
  'POST /office/disputes/:id': ({ dispute }) => ({
    params: { id: dispute },
    form: { answer: 'upheld', note: 'the approved version shows it' },
  }),
  'GET /office/invoices/:id/dispute': ({ creditedInvoice }) => ({ params: { id: creditedInvoice } }),
  'POST /office/invoices/:id/dispute': ({ creditedInvoice, creditedLine }, { dispute }) => ({
    params: { id: creditedInvoice },
    form: { dispute_id: dispute, line_id: creditedLine, amount: '0.10', reason: 'unknown', on: '2026-08-05' },
  }),
  'GET /office/invoices/:id/write-off': ({ creditedInvoice }) => ({ params: { id: creditedInvoice } }),
  'POST /office/invoices/:id/write-off': ({ creditedInvoice }, { writeOff, discount }) =>
    [
      { id: writeOff, kind: 'bad_debt' },
      { id: discount, kind: 'discount' },
    ].map((each) => ({
      params: { id: creditedInvoice },
      form: { ...each, amount: '0.10', reason: 'as agreed', on: '2026-08-05' },
    })),
  'GET /office/invoices/:id/recover/:write_off_id': ({ creditedInvoice, writeOff }) => ({
    params: { id: creditedInvoice, write_off_id: writeOff },
  }),
  'POST /office/invoices/:id/recover/:write_off_id': ({ creditedInvoice, writeOff }) => ({
    params: { id: creditedInvoice, write_off_id: writeOff },
    form: { reason: 'is paid after all', on: '2026-08-05' },
  }),
  'GET /office/invoices/:id/void': ({ voidableInvoice }) => ({ params: { id: voidableInvoice } }),
  'POST /office/invoices/:id/void': ({ voidableInvoice }) => ({
    params: { id: voidableInvoice },
    form: { reason: 'made out to the wrong account' },
  }),
  'GET /account/credit-notes/:id': ({ creditNote }) => ({ params: { id: creditNote } }),
  'GET /account/invoices/:id/dispute': ({ creditedInvoice }) => ({ params: { id: creditedInvoice } }),
  'POST /account/invoices/:id/dispute': ({ creditedInvoice, creditedLine }, { contactDispute }) => ({
    params: { id: creditedInvoice },
    form: { dispute_id: contactDispute, line_id: creditedLine, amount: '0.10', reason: 'error' },
  }),
};
