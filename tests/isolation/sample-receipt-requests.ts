import type { SampleRequests } from './sample-request.ts';

const on = '2026-08-05';

/** What becomes of money, in the order in which it can be done. */
export const sampleReceiptApiRequests: Readonly<Record<string, SampleRequests>> = {
  'POST /api/v1/deposits': ({ account, writtenUp }, { deposit }) => ({
    json: {
      id: deposit,
      account_id: account,
      work_order_id: writtenUp,
      method: 'check',
      amount: '5.00',
      received_on: on,
    },
  }),
  'POST /api/v1/payments/:id/unapplications': (named, { unapplication }) => ({
    params: { id: named.creditPayment },
    json: { id: unapplication, application_id: named.appliedApplication, reason: 'wrong invoice' },
  }),
  'POST /api/v1/payments/:id/refunds': ({ creditPayment }, { creditRefund }) => ({
    params: { id: creditPayment },
    json: { id: creditRefund, amount: '0.10', method: 'check' },
  }),
  'POST /api/v1/deposits/:id/refunds': ({ heldDeposit }, { depositRefund }) => ({
    params: { id: heldDeposit },
    json: { id: depositRefund, amount: '0.10', method: 'check', fee_kept: '0.02' },
  }),
  'POST /api/v1/credit-notes/:id/refunds': ({ creditNote }, { noteRefund }) => ({
    params: { id: creditNote },
    json: { id: noteRefund, amount: '0.10', method: 'check' },
  }),
  'POST /api/v1/payments/:id/moves': ({ creditPayment, groupAccount }, { creditMove }) => ({
    params: { id: creditPayment },
    json: { id: creditMove, to_account_id: groupAccount, amount: '0.10' },
  }),
  'POST /api/v1/credit-notes/:id/moves': ({ creditNote, groupAccount }, { noteMove }) => ({
    params: { id: creditNote },
    json: { id: noteMove, to_account_id: groupAccount, amount: '0.10' },
  }),
  'POST /api/v1/payments/:id/returns': ({ returnablePayment }, made) => ({
    params: { id: returnablePayment },
    json: { id: made.return, returned_on: on, reason: 'insufficient funds', fee: '5.00' },
  }),
  'GET /api/v1/parked-receipts': ({ parkedReceipt }) => ({ query: { past: parkedReceipt } }),
  'POST /api/v1/parked-receipts': (_named, { receipt }) => ({
    json: { id: receipt, method: 'check', amount: '4.00', received_on: on, payer: 'not legible' },
  }),
  'POST /api/v1/parked-receipts/:id/assignment': ({ parkedReceipt, account }, { assignedPayment }) => ({
    params: { id: parkedReceipt },
    json: { account_id: account, payment_id: assignedPayment },
  }),
  'POST /api/v1/late-charges': ({ openInvoice }) => ({ json: { invoice_ids: [openInvoice] } }),
  'GET /api/v1/accounts/:id/opening-balances': ({ account }) => ({ params: { id: account } }),
  'POST /api/v1/accounts/:id/opening-balances': ({ account }, { opening }) => ({
    params: { id: account },
    json: {
      id: opening,
      brought_on: on,
      items: [{ number: 'OLD-API', issued_on: '2026-07-01', due_on: '2026-09-01', amount: '2.00' }],
    },
  }),
  'POST /api/v1/clearing/fees': (_named, { clearingFee }) => ({
    json: { id: clearingFee, amount: '0.10', on },
  }),
  'POST /api/v1/clearing/payouts': (_named, { clearingPayout }) => ({
    json: { id: clearingPayout, amount: '0.10', on },
  }),
};

export const sampleReceiptPageRequests: Readonly<Record<string, SampleRequests>> = {
  'GET /office/deposits/new': ({ account, writtenUp }) => ({ query: { account, work_order: writtenUp } }),
  'POST /office/deposits/new': ({ account, writtenUp }, { deposit }) => ({
    form: {
      payment_id: deposit,
      account,
      work_order_id: writtenUp,
      method: 'check',
      amount: '5.00',
      received_on: on,
    },
  }),
  'POST /office/payments/:id/unapply': (named, { unapplication }) => ({
    params: { id: named.creditPayment },
    form: { change_id: unapplication, application_id: named.appliedApplication, reason: 'wrong invoice' },
  }),
  'POST /office/payments/:id/refund': ({ creditPayment, heldDeposit }, { creditRefund, depositRefund }) => [
    {
      params: { id: creditPayment },
      form: { change_id: creditRefund, amount: '0.10', method: 'check', on },
    },
    {
      params: { id: heldDeposit },
      form: { change_id: depositRefund, amount: '0.10', method: 'check', on, fee_kept: '0.02' },
    },
  ],
  'POST /office/payments/:id/move': ({ creditPayment, groupAccount }, { creditMove }) => ({
    params: { id: creditPayment },
    form: { change_id: creditMove, to_account_id: groupAccount, amount: '0.10' },
  }),
  'POST /office/payments/:id/return': ({ returnablePayment }, made) => ({
    params: { id: returnablePayment },
    form: { change_id: made.return, returned_on: on, reason: 'insufficient funds', fee: '5.00' },
  }),
  'GET /office/parked-receipts': ({ parkedReceipt }) => ({ query: { past: parkedReceipt } }),
  'POST /office/parked-receipts': (_named, { receipt }) => ({
    form: { receipt_id: receipt, method: 'check', amount: '4.00', received_on: on, payer: 'not legible' },
  }),
  'GET /office/parked-receipts/:id': ({ parkedReceipt }) => ({ params: { id: parkedReceipt } }),
  'POST /office/parked-receipts/:id': ({ parkedReceipt, account }, { assignedPayment }) => ({
    params: { id: parkedReceipt },
    form: { payment_id: assignedPayment, account_id: account, on },
  }),
  'POST /office/late-charges': ({ openInvoice }) => ({ form: { invoice_id: openInvoice } }),
  'GET /office/accounts/:id/opening-balance': ({ account }) => ({ params: { id: account } }),
  'POST /office/accounts/:id/opening-balance': ({ account }, { opening }) => ({
    params: { id: account },
    form: {
      opening_id: opening,
      brought_on: on,
      'items.0.number': 'OLD-PAGE',
      'items.0.issued_on': '2026-07-01',
      'items.0.due_on': '2026-09-01',
      'items.0.amount': '2.00',
    },
  }),
  'POST /office/clearing': (_named, { clearingFee }) => ({
    form: { movement_id: clearingFee, kind: 'fee', amount: '0.10', on },
  }),
};
