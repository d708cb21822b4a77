import { allows } from '@grainwright/domain';
import type { PaymentList } from '@grainwright/operations';
import { actionLink, quietButton, quietLink } from '../../../look/buttons.ts';
import { dayShown, money } from '../../../look/figures.ts';
import { type Choice, selectField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { dataTable, emptyState } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';
import { howPaid, paymentStatus } from './payment-view.ts';

export const shownKinds = {
  all: 'All payments and deposits',
  unapplied: 'With credit or deposits left',
  deposits: 'Deposits',
  returned: 'What came back',
} as const satisfies Record<string, string>;
export type ShownKind = keyof typeof shownKinds;

export interface PaymentsView {
  readonly frame: Frame;
  readonly list: PaymentList;
  readonly accounts: readonly Choice[];
  readonly account: string;
  readonly show: ShownKind;
}

export function paymentsView({ frame, list, accounts, account, show }: PaymentsView): Html {
  const kinds = Object.entries(shownKinds).map(([value, label]) => ({ value, label }));
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
        ${selectField({ name: 'show', label: 'Show', value: show, choices: kinds })}
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
          {
            header: 'How',
            cell: (row) => `${row.purpose === 'deposit' ? 'deposit by ' : ''}${howPaid(row)}`,
          },
          { header: 'Status', cell: paymentStatus },
          { header: 'Settles', cell: settles },
          { header: 'Amount', figure: true, cell: (row) => money(row.amountMinor, row.currency) },
          { header: 'Unapplied', figure: true, cell: (row) => money(row.unappliedMinor, row.currency) },
        ],
        rows: list.rows,
        empty: emptyState(
          'No payments here',
          'Checks, cards, transfers and cash show up here once they are recorded.',
        ),
      })}
      ${list.next !== null && html`<nav class="buttons" aria-label="Pages of the list">${quietLink({ label: 'Older payments', href: olderAddress(list.next, account, show) })}</nav>`}`,
  });
}

function settles({ applications }: PaymentList['rows'][number]): string {
  const live = applications.filter((application) => application.unappliedOn === null);
  return live.map((application) => application.invoiceNumber).join(', ');
}

function olderAddress(next: string, account: string, show: ShownKind): string {
  const query = new URLSearchParams({ before: next });
  if (account !== '') query.set('account', account);
  if (show !== 'all') query.set('show', show);
  return `/office/payments?${query}`;
}
