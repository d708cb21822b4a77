import type { Problem } from '@grainwright/domain';
import type { InvoiceView } from '@grainwright/operations';
import { actionButton, quietLink } from '../../../look/buttons.ts';
import { dayText, money, moneyText } from '../../../look/figures.ts';
import {
  dateField,
  errorSummary,
  hiddenCsrf,
  hiddenField,
  moneyField,
  radioCards,
  textArea,
} from '../../../look/forms.ts';
import { type Fragment, type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';

export interface EndingForm {
  readonly frame: Frame;
  readonly invoice: InvoiceView;
  readonly typed: (name: string) => string;
  readonly problem: Problem | null;
}

export function voidFormView(form: EndingForm): Html {
  const { invoice } = form;
  return endingPage(form, {
    heading: `Void ${invoice.number}`,
    lead: `${invoice.accountName}, ${moneyText(invoice.totalMinor, invoice.currency)}. The number is kept, all that was posted is taken back today, and the work may be invoiced again.`,
    path: 'void',
    button: 'Void the invoice',
    fields: (field) =>
      textArea({ ...field('reason'), label: 'Reason', maxLength: 500, required: true, rows: 2 }),
  });
}

export function writeOffFormView(form: EndingForm & { readonly id: string }): Html {
  const { frame, invoice, id } = form;
  const { currency } = invoice;
  return endingPage(form, {
    heading: `Let ${invoice.number} go`,
    lead: html`${invoice.accountName}, ${money(invoice.openMinor, currency)} open.`,
    path: 'write-off',
    button: 'Let it go',
    fields: (field) => html`${hiddenField('id', id)}
      ${radioCards({
        ...field('kind'),
        label: 'What is it',
        required: true,
        choices: [
          { value: 'bad_debt', label: 'A bad debt', detail: 'It will not be paid. The work is written off.' },
          {
            value: 'small_difference',
            label: 'A small difference',
            detail: 'What a payment left open, up to what the business allows.',
          },
          { value: 'discount', label: 'A discount for paying early', detail: 'Say what was agreed.' },
        ],
      })}
      ${moneyField({ ...field('amount'), label: 'Amount', currency, required: true })}
      ${textArea({ ...field('reason'), label: 'Reason', hint: 'May be left empty for a small difference.', maxLength: 500, rows: 2 })}
      ${dateField({ ...field('on'), label: 'Date', min: invoice.issuedOn, max: frame.me.today, required: true })}
      <p>Whether the sales tax in a bad debt may be taken back is a local rule. Your adviser decides, and the business’s
        settings say so.</p>`,
  });
}

export function recoverFormView(
  form: EndingForm & { readonly writtenOff: InvoiceView['letGo'][number]; readonly writeOffId: string },
): Html {
  const { frame, invoice, writtenOff, writeOffId } = form;
  return endingPage(form, {
    heading: `Recover what was written off of ${invoice.number}`,
    lead: html`${money(writtenOff.amountMinor, invoice.currency)} written off ${dayText(writtenOff.on)} is owed again.`,
    path: `recover/${writeOffId}`,
    button: 'Recover it',
    fields: (field) => html`
      ${textArea({ ...field('reason'), label: 'Reason', maxLength: 500, required: true, rows: 2 })}
      ${dateField({ ...field('on'), label: 'Date', min: writtenOff.on, max: frame.me.today, required: true })}`,
  });
}

type FieldOf = (name: string) => {
  readonly name: string;
  readonly value: string;
  readonly error: string | undefined;
};

function endingPage(
  { frame, invoice, typed, problem }: EndingForm,
  page: {
    readonly heading: string;
    readonly lead: Fragment;
    readonly path: string;
    readonly button: string;
    readonly fields: (field: FieldOf) => Html;
  },
): Html {
  const { errorOf, summary } = problemsOf(problem, ['kind', 'amount', 'reason', 'on']);
  return officePage({
    ...frame,
    title: page.heading,
    heading: page.heading,
    lead: page.lead,
    beside: quietLink({ label: 'Back to the invoice', href: `/office/invoices/${invoice.id}` }),
    current: 'invoices',
    body: html`${errorSummary(summary)}
      <form method="post" action="${`/office/invoices/${invoice.id}/${page.path}`}">
        ${hiddenCsrf(frame.csrfToken)}
        ${page.fields((name) => ({ name, value: typed(name), error: errorOf(name) }))}
        ${actionButton({ label: page.button })}
      </form>`,
  });
}
