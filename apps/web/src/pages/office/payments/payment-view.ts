import { type PaymentState, type PaymentView, paymentMethods } from '@grainwright/operations';
import { quietLink } from '../../../look/buttons.ts';
import { dayShown, money } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { notice, type StatusKind, statusWord } from '../../../look/notices.ts';
import { type Definition, dataTable, definitionList, emptyState } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';

export interface OnePaymentView {
  readonly frame: Frame;
  readonly payment: PaymentView;
  /** The form that applies the rest; null where nothing is left or the person may not. */
  readonly apply: Html | null;
  /** What else can be done with it. */
  readonly forms: readonly Html[];
  /** The payment was recorded, but why less was paid could not be kept. */
  readonly shortPay: boolean;
}

export function paymentView({ frame, payment, apply, forms, shortPay }: OnePaymentView): Html {
  const { currency, accountId } = payment;
  const what = payment.purpose === 'deposit' ? 'Deposit' : 'Payment';
  return officePage({
    ...frame,
    title: `${what} from ${payment.accountName}`,
    heading: `${what} from ${payment.accountName}`,
    lead: html`${money(payment.amountMinor, currency)}, received ${dayShown(payment.receivedOn)} ${paymentStatus(payment)}`,
    beside: [
      quietLink({ label: 'Payments of the account', href: `/office/payments?account=${accountId}` }),
      quietLink({ label: 'Record another', href: '/office/payments/new' }),
      quietLink({ label: 'Statements', href: `/office/statements?account=${accountId}` }),
    ],
    current: 'payment',
    body: html`${
      shortPay &&
      notice(
        'problem',
        'The payment is recorded, the reason is not',
        'Why less was paid could not be kept. Note it on the invoice.',
      )
    }
      ${definitionList(facts(payment))}
      ${applications(payment)}
      ${payment.refunds.length > 0 && refunds(payment)}
      ${apply && html`<h2>Apply the rest</h2>${apply}`}
      ${forms.length > 0 && html`<h2>More</h2>${forms}`}`,
  });
}

const states: Readonly<Record<PaymentState, readonly [StatusKind, string]>> = {
  received: ['settled', 'received'],
  returned: ['problem', 'came back'],
  refunded: ['stopped', 'paid back'],
  moved: ['stopped', 'moved within the group'],
};

/** Where a payment stands, in a word: of a deposit, whether it is still held. */
export function paymentStatus({ state, purpose, unappliedMinor }: PaymentView): Html {
  if (state === 'received' && purpose === 'deposit' && unappliedMinor > 0n)
    return statusWord('waiting', 'held');
  const [kind, word] = states[state];
  return statusWord(kind, word);
}

function facts(payment: PaymentView): readonly Definition[] {
  const { currency, purpose, unappliedMinor, refundedMinor, movedMinor, returnedOn, workOrderId } = payment;
  const left = purpose === 'deposit' ? 'Still held' : 'Account credit left';
  return [
    { term: 'How', value: howPaid(payment) },
    { term: 'Amount', value: money(payment.amountMinor, currency) },
    ...(workOrderId === null
      ? []
      : [{ term: 'For', value: html`<a href="/office/work-orders/${workOrderId}">the work order</a>` }]),
    { term: left, value: money(unappliedMinor, currency) },
    ...(refundedMinor === 0n ? [] : [{ term: 'Paid back', value: money(refundedMinor, currency) }]),
    ...(movedMinor === 0n
      ? []
      : [{ term: 'At other accounts of the group', value: money(movedMinor, currency) }]),
    ...(returnedOn === null ? [] : [{ term: 'Came back', value: dayShown(returnedOn) }]),
  ];
}

function applications({ applications: rows, currency, purpose }: PaymentView): Html {
  return dataTable({
    caption: 'What it settles',
    columns: [
      {
        header: 'Invoice',
        names: true,
        cell: (row) => html`<a href="/office/invoices/${row.invoiceId}">${row.invoiceNumber}</a>`,
      },
      { header: 'Applied on', cell: (row) => dayShown(row.appliedOn) },
      {
        header: 'Now',
        cell: (row) =>
          row.unappliedOn === null
            ? row.byRule && 'by itself'
            : html`${statusWord('stopped', 'taken off')} ${dayShown(row.unappliedOn)}: ${row.unappliedReason}`,
      },
      { header: 'Amount', figure: true, cell: (row) => money(row.amountMinor, currency) },
    ],
    rows,
    empty: emptyState(
      'Nothing yet',
      purpose === 'deposit' ? 'It is held until its invoice is issued.' : 'All of it is account credit.',
    ),
  });
}

function refunds({ refunds: rows, currency }: PaymentView): Html {
  return dataTable({
    caption: 'What was paid back',
    columns: [
      { header: 'On', names: true, cell: (row) => dayShown(row.refundedOn) },
      { header: 'How', cell: (row) => `${paymentMethods[row.method]} ${row.reference}`.trim() },
      { header: 'Fee kept', figure: true, cell: (row) => money(row.feeKeptMinor, currency) },
      {
        header: 'Paid back',
        figure: true,
        cell: (row) => money(row.amountMinor - row.feeKeptMinor, currency),
      },
    ],
    rows,
    empty: emptyState('Nothing', 'Nothing was paid back.'),
  });
}

export function howPaid({ method, reference }: Pick<PaymentView, 'method' | 'reference'>): string {
  return [paymentMethods[method], reference].filter((part) => part !== '').join(' ');
}
