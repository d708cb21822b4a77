import { formatMinor, type Problem } from '@grainwright/domain';
import type { PaymentEntryView, PaymentView } from '@grainwright/operations';
import { quietButton } from '../../../look/buttons.ts';
import { moneyText } from '../../../look/figures.ts';
import {
  dateField,
  errorSummary,
  fieldId,
  hiddenCsrf,
  hiddenField,
  moneyField,
  selectField,
  textField,
} from '../../../look/forms.ts';
import { attributes, type Html, html } from '../../../look/html.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import type { Typed } from './entry-form.ts';
import { methodChoices } from './form-view.ts';

/** What can be done with a payment besides applying it; each is a form of its own on the payment's page. */
export const changes = ['return', 'unapply', 'refund', 'move'] as const;
export type Change = (typeof changes)[number];

export interface ChangeForms {
  readonly frame: Frame;
  readonly payment: PaymentView;
  readonly entry: PaymentEntryView;
  readonly newId: () => string;
  /** The form that came back, with what was typed; null where none did. */
  readonly sent: { readonly change: Change; readonly typed: Typed; readonly problem: Problem } | null;
}

/** The forms for what is possible now; an empty list for money that is gone. */
export function changeForms(shown: ChangeForms): readonly Html[] {
  const { payment, entry } = shown;
  const live = payment.applications.filter((application) => application.unappliedOn === null);
  const fromOutside = payment.method !== 'moved' && payment.method !== 'brought_forward';
  const whole = payment.refundedMinor === 0n && payment.state !== 'returned';
  return [
    ...(live.length > 0 ? [unapplyForm(shown)] : []),
    ...(payment.unappliedMinor > 0n ? [refundForm(shown)] : []),
    ...(payment.unappliedMinor > 0n && payment.purpose === 'payment' && entry.group.length > 0
      ? [moveForm(shown)]
      : []),
    ...(fromOutside && whole ? [returnForm(shown)] : []),
  ];
}

interface Part {
  readonly change: Change;
  readonly heading: string;
  readonly lead?: string;
  readonly button: string;
  /** Values to start with. */
  readonly starts: Readonly<Record<string, string>>;
  readonly names: readonly string[];
  readonly fields: (field: FieldOf) => Html;
}

type FieldOf = (name: string) => {
  readonly name: string;
  readonly id: string;
  readonly value: string;
  readonly error: string | undefined;
};

/** Closed until it is wanted; open where it came back. */
function part({ frame, payment, sent, newId }: ChangeForms, shown: Part): Html {
  const back = sent !== null && sent.change === shown.change ? sent : null;
  const ownName = (name: string) => `${shown.change}-${name}`;
  const { errorOf, summary } = problemsOf(back?.problem ?? null, shown.names);
  const field: FieldOf = (name) => ({
    name,
    id: fieldId({ name: ownName(name) }),
    value: back === null ? (shown.starts[name] ?? '') : back.typed(name),
    error: errorOf(name),
  });
  const problems = summary.map((each) => ({
    ...each,
    field: each.field === null ? null : ownName(each.field),
  }));
  return html`<details ${attributes({ open: back !== null })}>
    <summary>${shown.heading}</summary>
    ${shown.lead !== undefined && html`<p>${shown.lead}</p>`}
    ${errorSummary(problems)}
    <form method="post" action="${`/office/payments/${payment.id}/${shown.change}`}">
      ${hiddenCsrf(frame.csrfToken)}
      ${hiddenField('change_id', back?.typed('change_id') || newId())}
      <div class="field-group">${shown.fields(field)}</div>
      ${quietButton({ label: shown.button })}
    </form>
  </details>`;
}

function returnForm(shown: ChangeForms): Html {
  const { business, today } = shown.frame.me;
  const { currency } = shown.payment;
  const usual = business.returnFeeMinor;
  return part(shown, {
    change: 'return',
    heading: 'It came back',
    lead: 'What it settled is open again, with its first due date. The payment stays on record.',
    button: 'Record the return',
    starts: { returned_on: today },
    names: ['returned_on', 'reason', 'fee'],
    fields: (field) => html`
      ${dateField({ ...field('returned_on'), label: 'Returned on', max: today, required: true })}
      ${textField({ ...field('reason'), label: 'Why', hint: 'As the bank or the processor says.', maxLength: 500, required: true })}
      ${moneyField({
        ...field('fee'),
        label: 'Fee',
        currency,
        required: false,
        hint: `${usual > 0n ? `Usually ${moneyText(usual, currency)}. ` : ''}Empty: none. Local law limits what may be charged; ask a licensed adviser.`,
      })}`,
  });
}

function unapplyForm(shown: ChangeForms): Html {
  const { applications, currency } = shown.payment;
  const choices = applications
    .filter((application) => application.unappliedOn === null)
    .map((application) => ({
      value: application.id,
      label: `${application.invoiceNumber}, ${moneyText(application.amountMinor, currency)}`,
    }));
  return part(shown, {
    change: 'unapply',
    heading: 'Take it off an invoice',
    lead: 'That much of the invoice is open again, and the money can be applied elsewhere.',
    button: 'Take it off',
    starts: {},
    names: ['application_id', 'reason'],
    fields: (field) => html`
      ${selectField({ ...field('application_id'), label: 'Invoice', required: true, empty: 'Choose an invoice', choices })}
      ${textField({ ...field('reason'), label: 'Why', maxLength: 500, required: true })}`,
  });
}

function refundForm(shown: ChangeForms): Html {
  const { today } = shown.frame.me;
  const { currency, unappliedMinor, purpose, method } = shown.payment;
  const deposit = purpose === 'deposit';
  return part(shown, {
    change: 'refund',
    heading: deposit ? 'Give the deposit back' : 'Pay the credit back',
    button: deposit ? 'Record what was given back' : 'Record the refund',
    starts: {
      amount: formatMinor(unappliedMinor, currency),
      method: methodChoices.some((choice) => choice.value === method) ? method : '',
      on: today,
    },
    names: ['amount', 'fee_kept', 'method', 'on', 'reference'],
    fields: (field) => html`
      ${moneyField({ ...field('amount'), label: deposit ? 'Of the deposit' : 'Amount', currency, required: true })}
      ${deposit && moneyField({ ...field('fee_kept'), label: 'Fee kept', currency, required: false, hint: 'A part of that amount, as agreed for a cancellation.' })}
      ${selectField({ ...field('method'), label: 'How', required: true, empty: 'Choose how', choices: methodChoices })}
      ${dateField({ ...field('on'), label: 'On', max: today, required: true })}
      ${textField({ ...field('reference'), label: 'Reference', maxLength: 80, required: false })}`,
  });
}

function moveForm(shown: ChangeForms): Html {
  const { currency, unappliedMinor } = shown.payment;
  const choices = shown.entry.group.map(({ id, name }) => ({ value: id, label: name }));
  return part(shown, {
    change: 'move',
    heading: 'Move the credit within the group',
    button: 'Move it',
    starts: { amount: formatMinor(unappliedMinor, currency) },
    names: ['to_account_id', 'amount'],
    fields: (field) => html`
      ${selectField({ ...field('to_account_id'), label: 'To', required: true, empty: 'Choose an account', choices })}
      ${moneyField({ ...field('amount'), label: 'Amount', currency, required: true })}`,
  });
}
