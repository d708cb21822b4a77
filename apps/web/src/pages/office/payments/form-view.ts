import { daysBetween, disputeReasons, type InvoiceId, type Problem } from '@grainwright/domain';
import {
  type DocumentToPay,
  outsideMethods,
  type PaymentEntryView,
  paymentMethods,
} from '@grainwright/operations';
import { actionButton, quietButton, quietLink } from '../../../look/buttons.ts';
import { ageText, dayShown, money, moneyText } from '../../../look/figures.ts';
import {
  type Choice,
  dateField,
  errorSummary,
  fieldId,
  hiddenCsrf,
  hiddenField,
  moneyField,
  radioCards,
  selectField,
  textField,
} from '../../../look/forms.ts';
import { attributes, type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { notice, statusWord } from '../../../look/notices.ts';
import { dataTable, emptyState } from '../../../look/tables.ts';
import { type FormProblems, problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import { appliedField, disputeField, documentsOf, type Entered, reasonField } from './entry-form.ts';

/** How money comes in from outside, to choose from. */
export const methodChoices: readonly Choice[] = outsideMethods.map((value) => {
  const words = paymentMethods[value];
  return { value, label: `${words.charAt(0).toUpperCase()}${words.slice(1)}` };
});

export interface PaymentForm {
  readonly frame: Frame;
  readonly entry: PaymentEntryView;
  readonly paymentId: string;
  /** The document after which this page of the list begins; null on the first. */
  readonly past: InvoiceId | null;
  readonly entered: Entered;
  readonly suggestion: 'found' | 'none' | null;
  /** Its field is a name of this form. */
  readonly problem: Problem | null;
  /** Whether the problem is only a question: it can be recorded anyway. */
  readonly asksAnyway: boolean;
  readonly newId: () => string;
}

/** Sent along when something else is asked for than to record: another page of what is open, or what fits the amount. */
export const askingField = 'ask';

/** Sent along when somebody was asked and records it anyway. */
export const anywayField = 'anyway';

export function paymentFormView(form: PaymentForm): Html {
  const { frame, entry, entered } = form;
  const documents = documentsOf(entry);
  const fields = [
    'method',
    'amount',
    'received_on',
    'reference',
    ...documents.map((row) => appliedField(row.id)),
  ];
  const problems = problemsOf(form.problem, fields);
  const field = (name: string) => ({ name, value: entered.typed(name), error: problems.errorOf(name) });
  return officePage({
    ...frame,
    scripts: [frame.assets.payment, frame.assets.sending],
    title: 'Record a payment',
    heading: 'Record a payment',
    lead: `From ${entry.account.name}`,
    current: 'new-payment',
    wide: true,
    beside: [
      quietLink({ label: 'Another account', href: '/office/payments/new' }),
      quietLink({ label: 'Record a deposit', href: `/office/deposits/new?account=${entry.account.id}` }),
    ],
    body: html`${errorSummary(problems.summary)}
      ${form.suggestion !== null && suggestionNotice(form.suggestion)}
      <form ${attributes({ method: 'post', action: formAddress(form.past), 'data-payment': entry.currency, 'data-sending': 'Recording…' })}>
        ${hiddenCsrf(frame.csrfToken)}
        ${hiddenField('payment_id', form.paymentId)}
        ${hiddenField('account', entry.account.id)}
        ${form.past !== null && hiddenField('shown', form.past)}
        ${radioCards({ ...field('method'), label: 'How', required: true, choices: methodChoices })}
        <div class="field-group">
          ${moneyField({ ...field('amount'), label: 'Amount received', currency: entry.currency, required: true })}
          ${dateField({ ...field('received_on'), label: 'Received on', max: frame.me.today, required: true })}
          ${textField({ ...field('reference'), label: 'Reference', hint: 'The check’s number, or the bank’s reference.', maxLength: 80, required: false })}
        </div>
        <div class="notice notice--info" data-match hidden>
          <p data-match-words></p>
          <button type="button" class="button">Tick it</button>
        </div>
        ${openDocuments(form, problems)}
        <p class="remaining" data-left role="status">${restWords(entry)}</p>
        ${actionButton({ label: 'Record the payment' })}
        ${form.asksAnyway && quietButton({ label: 'Record it anyway', name: anywayField, value: 'yes' })}
        ${otherQuestions(form)}
      </form>
      ${alreadyThere(entry)}`,
  });
}

function formAddress(past: InvoiceId | null): string {
  return past === null ? '/office/payments/new' : `/office/payments/new?past=${past}`;
}

function suggestionNotice(found: 'found' | 'none'): Html {
  if (found === 'none')
    return notice(
      'info',
      'Nothing fits exactly',
      'No document, and no few of them, come to this amount. Tick what it is for.',
    );
  return notice(
    'done',
    'This fits exactly',
    'What the amount pays is ticked. Look at it, then record the payment.',
  );
}

function restWords({ appliesMoneyItself }: PaymentEntryView): string {
  return appliesMoneyItself
    ? 'What is not put on a document settles the oldest ones by itself, as the account asks.'
    : 'What is not put on a document stays account credit.';
}

function openDocuments(form: PaymentForm, problems: FormProblems): Html {
  const { entry, frame } = form;
  const several = entry.ofGroup.length > 0;
  return dataTable<DocumentToPay>({
    caption: `What ${entry.account.name}${several ? ' and its group have' : ' has'} open`,
    columns: [
      { header: 'Pay', cell: (row) => tickBox(row, form.entered) },
      {
        header: 'Document',
        names: true,
        cell: (row) =>
          html`<a href="/office/invoices/${row.id}">${row.number}</a>${hiddenField('invoice_id', row.id)}${hiddenField(disputeField(row.id), form.entered.typed(disputeField(row.id)) || form.newId())}`,
      },
      ...(several ? [{ header: 'Account', cell: (row: DocumentToPay) => row.accountName }] : []),
      { header: 'Due', cell: (row) => html`${dayShown(row.dueOn)} ${dueWords(row, frame)}` },
      { header: 'Open', figure: true, cell: (row) => money(row.openMinor, row.currency) },
      { header: 'Amount', cell: (row) => amountBox(row, form.entered, problems) },
      { header: 'If less is paid', cell: (row) => reasonBox(row, form.entered) },
    ],
    rows: documentsOf(entry),
    empty: emptyState(
      'Nothing is open',
      'The payment will be account credit until there is something to apply it to.',
    ),
  });
}

function tickBox(row: DocumentToPay, { ticked }: Entered): Html {
  return html`<label class="check"><input ${attributes({
    type: 'checkbox',
    name: 'tick',
    value: row.id,
    checked: ticked.has(row.id),
    'data-open': row.openMinor.toString(),
    'data-number': row.number,
    'data-amount': fieldId({ name: appliedField(row.id) }),
  })}> <span class="heard">Pay ${row.number}, ${moneyText(row.openMinor, row.currency)} open</span></label>`;
}

function amountBox(row: DocumentToPay, { typed }: Entered, { errorOf }: FormProblems): Html {
  const name = appliedField(row.id);
  return moneyField({
    name,
    value: typed(name),
    error: errorOf(name),
    label: `To ${row.number}`,
    currency: row.currency,
  });
}

const reasonChoices = Object.entries(disputeReasons).map(([value, label]) => ({ value, label }));

function reasonBox(row: DocumentToPay, { typed }: Entered): Html {
  const name = reasonField(row.id);
  return html`<div data-short="${row.id}">${selectField({ name, value: typed(name), label: `Why less of ${row.number}`, empty: 'the rest stays open', choices: reasonChoices })}</div>`;
}

function dueWords(row: DocumentToPay, { me }: Frame): Html | false {
  const late = daysBetween(row.dueOn, me.today);
  return html`${late > 0 && statusWord('problem', `${ageText(late)} overdue`)}
    ${row.disputedMinor > 0n && html`<span class="hint">${money(row.disputedMinor, row.currency)} in dispute</span>`}`;
}

/**
 * Another page of what is open comes with all that was typed; nothing is recorded by turning it or by asking what fits.
 * These buttons come after the one that records, which the Enter key presses.
 */
function otherQuestions({ entry, entered, past }: PaymentForm): Html {
  const shown = new Set<string>(documentsOf(entry).map((row) => row.id));
  const elsewhere = [...entered.ticked].filter((id) => !shown.has(id));
  const ask = (label: string, value: string, to: InvoiceId | null) =>
    quietButton({ label, name: askingField, value, formAction: formAddress(to), unfinished: true });
  const kept =
    elsewhere.length === 1 ? 'The amount for one invoice' : `The amounts for ${elsewhere.length} invoices`;
  return html`${elsewhere.map((id) => html`${hiddenField('invoice_id', id)}${hiddenField(appliedField(id), entered.typed(appliedField(id)))}`)}
    ${elsewhere.length > 0 && html`<p>${kept} of other pages is kept and will be applied as well.</p>`}
    <div class="buttons">
      ${entry.open.length > 0 && ask('Tick what fits the amount', 'match', past)}
      ${past !== null && ask('The oldest invoices', 'turn', null)}
      ${entry.next !== null && ask('Later invoices', 'turn', entry.next)}
    </div>`;
}

/** Credit that waits already: it may be what the customer means to use. */
function alreadyThere({ unapplied, account, currency }: PaymentEntryView): Html | false {
  if (unapplied.length === 0) return false;
  return html`<h2>Already there</h2>${dataTable({
    caption: `Credit and deposits of ${account.name} that settle nothing yet`,
    columns: [
      { header: 'Received', names: true, cell: (row) => dayShown(row.receivedOn) },
      {
        header: 'What',
        cell: (row) =>
          `${row.purpose === 'deposit' ? 'Deposit by ' : ''}${paymentMethods[row.method]} ${row.reference}`.trim(),
      },
      { header: 'Left', figure: true, cell: (row) => money(row.unappliedMinor, currency) },
      { header: 'Use it', cell: (row) => html`<a href="/office/payments/${row.id}">Apply it</a>` },
    ],
    rows: unapplied,
    empty: emptyState('Nothing', 'There is no credit.'),
  })}`;
}
