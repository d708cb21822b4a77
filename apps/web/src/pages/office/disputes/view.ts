import { allows, disputeReasons, type Problem } from '@grainwright/domain';
import type { CreditNoteRowView, DisputeList, DisputeView } from '@grainwright/operations';
import { actionButton, actionLink, quietButton, quietLink } from '../../../look/buttons.ts';
import { ageText, dayShown, money, moneyText } from '../../../look/figures.ts';
import {
  type Choice,
  checkboxField,
  errorSummary,
  hiddenCsrf,
  radioCards,
  selectField,
  textArea,
} from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { definitionList, emptyState } from '../../../look/tables.ts';
import { type DisputeForm, disputeForm } from '../../billing/dispute-form.ts';
import { aboutOf, answerOf, disputeTable } from '../../billing/dispute-table.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';

export function officeDisputesView(view: {
  readonly frame: Frame;
  readonly list: DisputeList;
  readonly accounts: readonly Choice[];
  readonly account: string;
  readonly withAnswered: boolean;
}): Html {
  const { frame, list, account, withAnswered } = view;
  const query = { ...(account === '' ? {} : { account }), ...(withAnswered ? { answered: 'yes' } : {}) };
  const more = list.next === null ? null : new URLSearchParams({ ...query, after: list.next });
  return officePage({
    ...frame,
    title: 'Disputes',
    heading: 'Disputes',
    lead: list.accountName ?? 'What customers do not agree with, the longest open first.',
    current: 'disputes',
    body: html`<form class="filters" method="get" action="/office/disputes" role="search">
        ${selectField({ name: 'account', label: 'Account', value: account, empty: 'Every account', choices: view.accounts })}
        ${checkboxField({ name: 'answered', label: 'Answered ones as well', checked: withAnswered })}
        ${quietButton({ label: 'Show' })}
      </form>
      ${disputeTable({
        caption: 'Disputes, the longest open first',
        rows: list.rows,
        base: '/office/disputes',
        columns: [
          {
            header: 'Invoice',
            cell: (row) => html`<a href="/office/invoices/${row.invoiceId}">${row.invoiceNumber}</a>`,
          },
          ...(account === ''
            ? [{ header: 'Account', cell: (row: DisputeView) => html`${row.accountName}` }]
            : []),
        ],
        empty: emptyState('Nothing is in dispute', 'A dispute is opened from the page of its invoice.'),
      })}
      ${more && html`<nav class="buttons" aria-label="Pages of the list">${quietLink({ label: 'Later ones', href: `/office/disputes?${more}` })}</nav>`}`,
  });
}

export interface OfficeDisputeView {
  readonly frame: Frame;
  readonly dispute: DisputeView;
  /** Credit notes on the same invoice; one of them may answer it. */
  readonly notes: readonly CreditNoteRowView[];
  readonly typed: (name: string) => string;
  readonly problem: Problem | null;
}

export function officeDisputeView(view: OfficeDisputeView): Html {
  const { frame, dispute } = view;
  const mayAnswer =
    dispute.answer === null && dispute.voidedOn === null && allows(frame.me.role, 'issue_credit_note');
  return officePage({
    ...frame,
    title: `Dispute on ${dispute.invoiceNumber}`,
    heading: `Dispute on ${dispute.invoiceNumber}`,
    lead: `${dispute.accountName}, ${moneyText(dispute.amountMinor, dispute.currency)}`,
    beside: [
      mayAnswer &&
        actionLink({
          label: `Credit ${dispute.invoiceNumber}`,
          href: `/office/invoices/${dispute.invoiceId}/credit`,
        }),
      quietLink({ label: dispute.invoiceNumber, href: `/office/invoices/${dispute.invoiceId}` }),
      quietLink({ label: 'All disputes', href: '/office/disputes' }),
    ],
    current: 'disputes',
    body: html`${definitionList([
      { term: 'About', value: aboutOf(dispute) },
      { term: 'Amount', value: money(dispute.amountMinor, dispute.currency) },
      { term: 'Why', value: disputeReasons[dispute.reason] },
      ...(dispute.note === '' ? [] : [{ term: 'In their words', value: dispute.note }]),
      {
        term: dispute.byContact ? 'Opened by' : 'Noted by',
        value: html`${dispute.openedByName}, ${dayShown(dispute.openedOn)}`,
      },
      { term: 'Waiting', value: ageText(dispute.days) },
      { term: 'Answer', value: answerOf(dispute) },
    ])}
    ${mayAnswer && answerForm(view)}`,
  });
}

function answerForm({ frame, dispute, notes, typed, problem }: OfficeDisputeView): Html {
  const { errorOf, summary } = problemsOf(problem, ['answer', 'credit_note_id', 'note']);
  const field = (name: string) => ({ name, value: typed(name), error: errorOf(name) });
  const choices = notes.map((note) => ({
    value: note.id,
    label: `${note.number}, ${moneyText(note.totalMinor, note.currency)}, ${note.reason}`,
  }));
  return html`<section><h2>Answer it</h2>${errorSummary(summary)}
    <form method="post" action="${`/office/disputes/${dispute.id}`}">
      ${hiddenCsrf(frame.csrfToken)}
      ${radioCards({
        ...field('answer'),
        label: 'Answer',
        required: true,
        choices: [
          {
            value: 'upheld',
            label: 'The amount stands',
            detail: 'Say what shows it: the approved version, a picture.',
          },
          { value: 'credited', label: 'It was credited', detail: 'Issue the credit note first.' },
        ],
      })}
      ${choices.length > 0 && selectField({ ...field('credit_note_id'), label: 'Credit note', empty: 'None', choices })}
      ${textArea({ ...field('note'), label: 'What the customer is told', maxLength: 2000 })}
      ${actionButton({ label: 'Send the answer' })}
    </form></section>`;
}

export function officeDisputeFormView(form: DisputeForm): Html {
  const { frame, invoice } = form;
  return officePage({
    ...frame,
    title: `Dispute on ${invoice.number}`,
    heading: `Note a dispute on ${invoice.number}`,
    lead: `${invoice.accountName}. What is in dispute stays open; the rest is collected as usual.`,
    beside: quietLink({ label: 'Back to the invoice', href: `/office/invoices/${invoice.id}` }),
    current: 'disputes',
    body: disputeForm(form),
  });
}
