import { allows } from '@grainwright/domain';
import { type PaymentList, type PaymentView, paymentMethods } from '@grainwright/operations';
import { actionLink, quietButton, quietLink } from '../../../look/buttons.ts';
import { dayShown, money } from '../../../look/figures.ts';
import { type Choice, selectField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { dataTable, definitionList, emptyState } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';

export interface PaymentsView {
  readonly frame: Frame;
  readonly list: PaymentList;
  readonly accounts: readonly Choice[];
  readonly account: string;
}

export function paymentsView({ frame, list, accounts, account }: PaymentsView): Html {
  const kept = account === '' ? '' : `&account=${account}`;
  return officePage({
    ...frame,
    title: 'Payments',
    heading: 'Payments',
    lead: 'Money received, latest first, and what of it settles nothing yet.',
    beside:
      allows(frame.me.role, 'record_payment') &&
      actionLink({ label: 'Record a payment', href: '/office/payments/new' }),
    current: 'payment',
    body: html`<form class="filters" method="get" action="/office/payments" role="search">
        ${selectField({ name: 'account', label: 'Account', value: account, empty: 'Every account', choices: accounts })}
        ${quietButton({ label: 'Show' })}
      </form>
      ${dataTable({
        caption: 'Payments, latest first',
        captionHidden: true,
        columns: [
          {
            header: 'Received',
            names: true,
            cell: (row) => html`<a href="/office/payments/${row.id}">${dayShown(row.receivedOn)}</a>`,
          },
          { header: 'From', cell: (row) => row.accountName },
          { header: 'How', cell: howPaid },
          { header: 'Settles', cell: (row) => row.applications.map((each) => each.invoiceNumber).join(', ') },
          { header: 'Amount', figure: true, cell: (row) => money(row.amountMinor, row.currency) },
          { header: 'Unapplied', figure: true, cell: (row) => money(row.unappliedMinor, row.currency) },
        ],
        rows: list.rows,
        empty: emptyState(
          'No payments here',
          'Checks, cards, transfers and cash show up here once they are recorded.',
        ),
      })}
      ${list.next !== null && html`<nav class="buttons" aria-label="Pages of the list">${quietLink({ label: 'Older payments', href: `/office/payments?before=${list.next}${kept}` })}</nav>`}`,
  });
}

export interface OnePaymentView {
  readonly frame: Frame;
  readonly payment: PaymentView;
  /** The form that applies the rest; null where nothing is left or the person may not. */
  readonly apply: Html | null;
}

export function paymentView({ frame, payment, apply }: OnePaymentView): Html {
  const { currency, accountId } = payment;
  return officePage({
    ...frame,
    title: `Payment from ${payment.accountName}`,
    heading: `Payment from ${payment.accountName}`,
    lead: html`${money(payment.amountMinor, currency)}, received ${dayShown(payment.receivedOn)}`,
    beside: [
      quietLink({ label: 'Payments of the account', href: `/office/payments?account=${accountId}` }),
      quietLink({ label: 'Statements', href: `/office/statements?account=${accountId}` }),
    ],
    current: 'payment',
    body: html`${definitionList([
      { term: 'How', value: howPaid(payment) },
      { term: 'Amount', value: money(payment.amountMinor, currency) },
      { term: 'Account credit left', value: money(payment.unappliedMinor, currency) },
    ])}
      ${dataTable({
        caption: 'What it settles',
        columns: [
          {
            header: 'Invoice',
            names: true,
            cell: (row) => html`<a href="/office/invoices/${row.invoiceId}">${row.invoiceNumber}</a>`,
          },
          { header: 'Applied on', cell: (row) => dayShown(row.appliedOn) },
          { header: 'Amount', figure: true, cell: (row) => money(row.amountMinor, currency) },
        ],
        rows: payment.applications,
        empty: emptyState('Nothing yet', 'All of it is account credit.'),
      })}
      ${apply && html`<h2>Apply the rest</h2>${apply}`}`,
  });
}

function howPaid({ method, reference }: PaymentView): string {
  return [paymentMethods[method], reference].filter((part) => part !== '').join(' ');
}
