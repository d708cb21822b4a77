import type { Problem } from '@grainwright/domain';
import type { OpeningView, PaymentEntryView } from '@grainwright/operations';
import { actionButton, quietLink } from '../../../look/buttons.ts';
import { fieldGroup } from '../../../look/field-group.ts';
import { dayShown, dayText, money } from '../../../look/figures.ts';
import {
  dateField,
  errorSummary,
  hiddenCsrf,
  hiddenField,
  moneyField,
  textField,
} from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { dataTable, emptyState } from '../../../look/tables.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import type { Typed } from '../payments/entry-form.ts';

/** How many documents one form takes; more come with another. */
export const itemsOfForm = 6;
export const itemFields = ['number', 'issued_on', 'due_on', 'amount'] as const;

export interface OpeningPage {
  readonly frame: Frame;
  readonly account: PaymentEntryView['account'];
  readonly openings: readonly OpeningView[];
  readonly openingId: string;
  readonly typed: Typed;
  readonly problem: Problem | null;
}

/** What an account owed in older books, document by document, so that each ages from its own due date. */
export function openingBalanceView(page: OpeningPage): Html {
  const { frame, account, openings, typed } = page;
  const { currency } = frame.me.business;
  const places = Array.from({ length: itemsOfForm }, (_, place) => place);
  const names = places.flatMap((place) => itemFields.map((name) => `items.${place}.${name}`));
  const { errorOf, summary } = problemsOf(page.problem, ['brought_on', 'credit', ...names]);
  const field = (name: string) => ({ name, value: typed(name), error: errorOf(name) });
  const item = (place: number) =>
    fieldGroup(
      `Document ${place + 1}`,
      html`${textField({ ...field(`items.${place}.number`), label: 'Number', maxLength: 40 })}
        ${dateField({ ...field(`items.${place}.issued_on`), label: 'Issued on' })}
        ${dateField({ ...field(`items.${place}.due_on`), label: 'Due on' })}
        ${moneyField({ ...field(`items.${place}.amount`), label: 'Open', currency })}`,
    );
  return officePage({
    ...frame,
    title: `Opening balance of ${account.name}`,
    heading: 'Opening balance',
    lead: `What ${account.name} owed and had in credit in older books`,
    current: 'accounts',
    beside: quietLink({ label: 'The account', href: `/office/accounts/${account.id}` }),
    body: html`${openings.map(broughtAlong)}
      ${errorSummary(summary)}
      <form method="post" action="${`/office/accounts/${account.id}/opening-balance`}">
        ${hiddenCsrf(frame.csrfToken)}
        ${hiddenField('opening_id', page.openingId)}
        <div class="field-group">
          ${dateField({ ...field('brought_on'), label: 'Books taken over on', max: frame.me.today, required: true })}
          ${moneyField({ ...field('credit'), label: 'Credit of the account', currency, required: false })}
        </div>
        ${places.map(item)}
        <p>Leave out what is not needed. More documents come with another form.</p>
        ${actionButton({ label: 'Bring it forward' })}
      </form>`,
  });
}

function broughtAlong({ broughtOn, items, credit, currency }: OpeningView): Html {
  return html`${dataTable({
    caption: `Brought forward on ${dayText(broughtOn)}`,
    columns: [
      {
        header: 'Document',
        names: true,
        cell: (row) => html`<a href="/office/invoices/${row.id}">${row.number}</a>`,
      },
      { header: 'Issued', cell: (row) => dayShown(row.issuedOn) },
      { header: 'Due', cell: (row) => dayShown(row.dueOn) },
      { header: 'Amount', figure: true, cell: (row) => money(row.totalMinor, currency) },
    ],
    rows: items,
    empty: emptyState('No documents', 'Only credit was brought forward.'),
  })}
  ${credit && html`<p><a href="/office/payments/${credit.paymentId}">Credit of ${money(credit.amountMinor, currency)}</a> came along.</p>`}`;
}
