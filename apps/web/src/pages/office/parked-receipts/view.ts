import { allows, type Problem } from '@grainwright/domain';
import type { ParkedReceiptList, ParkedReceiptView } from '@grainwright/operations';
import { actionButton, quietButton, quietLink } from '../../../look/buttons.ts';
import { dayShown, money } from '../../../look/figures.ts';
import {
  type Choice,
  dateField,
  errorSummary,
  hiddenCsrf,
  hiddenField,
  moneyField,
  selectField,
  textField,
} from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { dataTable, emptyState } from '../../../look/tables.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import type { Typed } from '../payments/entry-form.ts';
import { methodChoices } from '../payments/form-view.ts';
import { howPaid } from '../payments/payment-view.ts';

export interface ParkedReceiptsPage {
  readonly frame: Frame;
  readonly list: ParkedReceiptList;
  readonly assigned: boolean;
  readonly receiptId: string;
  readonly typed: Typed;
  readonly problem: Problem | null;
}

export function parkedReceiptsView(page: ParkedReceiptsPage): Html {
  const { frame, list, assigned } = page;
  const other = assigned
    ? quietLink({ label: 'Those without a payer', href: '/office/parked-receipts' })
    : quietLink({ label: 'Those assigned', href: '/office/parked-receipts?assigned=yes' });
  const more = `/office/parked-receipts?past=${list.next}${assigned ? '&assigned=yes' : ''}`;
  return officePage({
    ...frame,
    title: 'Receipts without a payer',
    heading: 'Receipts without a payer',
    lead: html`${money(list.parkedMinor, list.currency)} waits until somebody finds out whose it is.`,
    beside: other,
    current: 'parked-receipts',
    body: html`${receiptsTable(list, assigned)}
      ${list.next !== null && html`<nav class="buttons" aria-label="Pages of the list">${quietLink({ label: 'Later ones', href: more })}</nav>`}
      ${!assigned && allows(frame.me.role, 'record_payment') && parkForm(page)}`,
  });
}

function receiptsTable({ rows }: ParkedReceiptList, assigned: boolean): Html {
  return dataTable<ParkedReceiptView>({
    caption: 'Receipts, oldest first',
    captionHidden: true,
    columns: [
      {
        header: 'Received',
        names: true,
        cell: (row) => html`<a href="/office/parked-receipts/${row.id}">${dayShown(row.receivedOn)}</a>`,
      },
      { header: 'How', cell: howPaid },
      { header: 'What it says', cell: (row) => row.payer },
      { header: 'Amount', figure: true, cell: (row) => money(row.amountMinor, row.currency) },
      ...(assigned
        ? [
            {
              header: 'Assigned to',
              cell: (row: ParkedReceiptView) =>
                row.assigned &&
                html`<a href="/office/payments/${row.assigned.paymentId}">${row.assigned.accountName}</a>, ${dayShown(row.assigned.assignedOn)}`,
            },
          ]
        : []),
    ],
    rows,
    empty: assigned
      ? emptyState('None yet', 'No receipt without a payer was assigned so far.')
      : emptyState('None', 'Every receipt has its payer.'),
  });
}

function parkForm({ frame, receiptId, typed, problem }: ParkedReceiptsPage): Html {
  const names = ['method', 'amount', 'received_on', 'reference', 'payer'];
  const { errorOf, summary } = problemsOf(problem, names);
  const field = (name: string) => ({ name, value: typed(name), error: errorOf(name) });
  return html`<h2>Park a receipt</h2>
    ${errorSummary(summary)}
    <form method="post" action="/office/parked-receipts">
      ${hiddenCsrf(frame.csrfToken)}
      ${hiddenField('receipt_id', receiptId)}
      <div class="field-group">
        ${selectField({ ...field('method'), label: 'How', required: true, empty: 'Choose how', choices: methodChoices })}
        ${moneyField({ ...field('amount'), label: 'Amount received', currency: frame.me.business.currency, required: true })}
        ${dateField({ ...field('received_on'), label: 'Received on', max: frame.me.today, required: true })}
        ${textField({ ...field('reference'), label: 'Reference', maxLength: 80, required: false })}
        ${textField({ ...field('payer'), label: 'What it says of the payer', maxLength: 200, required: false })}
      </div>
      ${actionButton({ label: 'Park it' })}
    </form>`;
}

export interface OneReceiptPage {
  readonly frame: Frame;
  readonly receipt: ParkedReceiptView;
  readonly accounts: readonly Choice[];
  readonly paymentId: string;
  readonly typed: Typed;
  readonly problem: Problem | null;
}

export function parkedReceiptView(page: OneReceiptPage): Html {
  const { frame, receipt } = page;
  const { assigned } = receipt;
  return officePage({
    ...frame,
    title: 'Receipt without a payer',
    heading: 'Receipt without a payer',
    lead: html`${money(receipt.amountMinor, receipt.currency)} by ${howPaid(receipt)}, received ${dayShown(receipt.receivedOn)}`,
    beside: quietLink({ label: 'All of them', href: '/office/parked-receipts' }),
    current: 'parked-receipts',
    body: html`${receipt.payer !== '' && html`<p>It says: ${receipt.payer}</p>`}
      ${
        assigned === null
          ? allows(frame.me.role, 'record_payment') && assignForm(page)
          : html`<p>It is ${assigned.accountName}’s since ${dayShown(assigned.assignedOn)}:
            <a href="/office/payments/${assigned.paymentId}">their payment</a>.</p>`
      }`,
  });
}

function assignForm({ frame, receipt, accounts, paymentId, typed, problem }: OneReceiptPage): Html {
  const { errorOf, summary } = problemsOf(problem, ['account_id', 'on']);
  return html`<h2>Whose is it?</h2>
    ${errorSummary(summary)}
    <form method="post" action="${`/office/parked-receipts/${receipt.id}`}">
      ${hiddenCsrf(frame.csrfToken)}
      ${hiddenField('payment_id', paymentId)}
      <div class="field-group">
        ${selectField({ name: 'account_id', label: 'Account', value: typed('account_id'), error: errorOf('account_id'), required: true, empty: 'Choose an account', choices: accounts })}
        ${dateField({ name: 'on', label: 'Found out on', value: typed('on'), error: errorOf('on'), max: frame.me.today, required: true })}
      </div>
      <p>From that day it is credit of the account.</p>
      ${quietButton({ label: 'Assign it' })}
    </form>`;
}
