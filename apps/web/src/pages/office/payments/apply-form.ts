import type { Problem } from '@grainwright/domain';
import type { PaymentEntryView } from '@grainwright/operations';
import { quietButton, quietLink } from '../../../look/buttons.ts';
import { moneyText } from '../../../look/figures.ts';
import { errorSummary, hiddenCsrf, hiddenField, moneyField, selectField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Typed } from './entry-form.ts';

/** Puts what is unapplied of a payment or deposit on one document of its account. */
export interface ApplyForm {
  readonly csrfToken: string;
  readonly paymentId: string;
  readonly applicationId: string;
  readonly entry: PaymentEntryView;
  readonly past: string | null;
  readonly typed: Typed;
  readonly problem: Problem | null;
}

export function applyForm(form: ApplyForm): Html {
  const { entry, past, typed, paymentId } = form;
  if (entry.open.length === 0 && past === null)
    return html`<p>The account has nothing open. The rest stays until there is an invoice.</p>`;
  const { errorOf, summary } = problemsOf(form.problem, ['invoice_id', 'amount']);
  const choices = entry.open.map((row) => ({
    value: row.id,
    label: `${row.number}, ${moneyText(row.openMinor, row.currency)} open`,
  }));
  const query = past === null ? '' : `?past=${past}`;
  const turn = (label: string, search: string) =>
    quietLink({ label, href: `/office/payments/${paymentId}${search}` });
  return html`${errorSummary(summary)}
    <form method="post" action="${`/office/payments/${paymentId}/applications${query}`}">
      ${hiddenCsrf(form.csrfToken)}
      ${hiddenField('application_id', form.applicationId)}
      <div class="field-group">
        ${selectField({ name: 'invoice_id', label: 'Invoice', value: typed('invoice_id'), error: errorOf('invoice_id'), required: true, empty: 'Choose an invoice', choices })}
        ${moneyField({ name: 'amount', label: 'Amount', value: typed('amount'), error: errorOf('amount'), currency: entry.currency, required: true })}
      </div>
      ${quietButton({ label: 'Apply' })}
    </form>
    ${
      (past !== null || entry.next !== null) &&
      html`<nav class="buttons" aria-label="Other open invoices">
        ${past !== null && turn('The oldest invoices', '')}
        ${entry.next !== null && turn('Later invoices', `?past=${entry.next}`)}
      </nav>`
    }`;
}
