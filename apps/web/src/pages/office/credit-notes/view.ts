import { allows, type Problem } from '@grainwright/domain';
import type { CreditNoteList, CreditNoteView, InvoiceRowView } from '@grainwright/operations';
import { quietButton, quietLink } from '../../../look/buttons.ts';
import { moneyText } from '../../../look/figures.ts';
import {
  type Choice,
  errorSummary,
  hiddenCsrf,
  hiddenField,
  moneyField,
  selectField,
} from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { creditNoteSheet } from '../../billing/credit-note-sheet.ts';
import { creditNoteTable } from '../../billing/credit-note-table.ts';
import { logoAddress } from '../../billing/logo-address.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';

export function officeCreditNotesView(view: {
  readonly frame: Frame;
  readonly list: CreditNoteList;
  readonly accounts: readonly Choice[];
  readonly account: string;
}): Html {
  const { frame, list, account } = view;
  return officePage({
    ...frame,
    title: 'Credit notes',
    heading: 'Credit notes',
    lead: list.accountName ?? 'Every account, newest first.',
    beside: quietLink({ label: 'Invoices', href: '/office/invoices' }),
    current: 'credit-notes',
    body: html`<form class="filters" method="get" action="/office/credit-notes" role="search">
        ${selectField({ name: 'account', label: 'Account', value: account, empty: 'Every account', choices: view.accounts })}
        ${quietButton({ label: 'Show' })}
      </form>
      ${creditNoteTable({
        list,
        base: '/office/credit-notes',
        invoices: '/office/invoices',
        query: account === '' ? {} : { account },
        withAccount: account === '',
      })}`,
  });
}

export interface OfficeCreditNoteView {
  readonly frame: Frame;
  readonly note: CreditNoteView;
  readonly applicationId: string;
  /** Oldest first; what is left may settle one of them. */
  readonly open: readonly InvoiceRowView[];
  readonly typed: (name: string) => string;
  readonly problem: Problem | null;
}

export function officeCreditNoteView(view: OfficeCreditNoteView): Html {
  const { frame, note } = view;
  const mayApply = note.unappliedMinor > 0n && allows(frame.me.role, 'record_payment');
  return officePage({
    ...frame,
    title: note.number,
    heading: note.number,
    lead: note.accountName,
    beside: [
      quietLink({ label: 'As PDF', href: `/office/credit-notes/${note.id}/credit-note.pdf` }),
      quietLink({ label: note.invoiceNumber, href: `/office/invoices/${note.invoiceId}` }),
      quietLink({ label: 'All credit notes', href: '/office/credit-notes' }),
    ],
    current: 'credit-notes',
    body: html`${creditNoteSheet(note, '/office/invoices', logoAddress(frame.me.business))}${mayApply && applyForm(view)}`,
  });
}

function applyForm({ frame, note, open, applicationId, typed, problem }: OfficeCreditNoteView): Html {
  const { currency } = note;
  if (open.length === 0)
    return html`<p>The account has nothing open. The rest stays credit until there is an invoice.</p>`;
  const { errorOf, summary } = problemsOf(problem, ['invoice_id', 'amount']);
  const choices = open.map((row) => ({
    value: row.id,
    label: `${row.number}, ${moneyText(row.openMinor, row.currency)} open`,
  }));
  return html`<section><h2>Apply what is left</h2>${errorSummary(summary)}
    <form method="post" action="${`/office/credit-notes/${note.id}/applications`}">
      ${hiddenCsrf(frame.csrfToken)}
      ${hiddenField('application_id', applicationId)}
      <div class="field-group">
        ${selectField({ name: 'invoice_id', label: 'Invoice', value: typed('invoice_id'), error: errorOf('invoice_id'), required: true, empty: 'Choose an invoice', choices })}
        ${moneyField({ name: 'amount', label: 'Amount', value: typed('amount'), error: errorOf('amount'), currency, required: true })}
      </div>
      ${quietButton({ label: 'Apply' })}
    </form></section>`;
}
