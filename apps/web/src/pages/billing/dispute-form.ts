import { type DisputeReason, disputeReasons, type Problem } from '@grainwright/domain';
import type { InvoiceView } from '@grainwright/operations';
import { actionButton } from '../../look/buttons.ts';
import { moneyText } from '../../look/figures.ts';
import {
  dateField,
  errorSummary,
  hiddenCsrf,
  hiddenField,
  moneyField,
  radioCards,
  selectField,
  textArea,
} from '../../look/forms.ts';
import { type Html, html } from '../../look/html.ts';
import { problemsOf } from '../form-problems.ts';
import type { Frame } from '../person.ts';

export interface DisputeForm {
  readonly frame: Frame;
  readonly invoice: InvoiceView;
  readonly disputeId: string;
  readonly typed: (name: string) => string;
  readonly problem: Problem | null;
  /** Where it is sent. */
  readonly action: string;
  readonly reasons: readonly DisputeReason[];
  /** The day may be an earlier one; for staff, who note what the customer told them. */
  readonly dated: boolean;
}

/** Says of a line, or of an amount, that it is not agreed with. */
export function disputeForm(form: DisputeForm): Html {
  const { frame, invoice, typed } = form;
  const { currency, openMinor, disputedMinor } = invoice;
  const { errorOf, summary } = problemsOf(form.problem, ['line_id', 'amount', 'reason', 'note', 'on']);
  const field = (name: string) => ({ name, value: typed(name), error: errorOf(name) });
  const lines = invoice.vehicles.flatMap((vehicle) =>
    vehicle.lines.flatMap(({ lineId, description, netMinor }) =>
      lineId === null
        ? []
        : [
            {
              value: lineId,
              label: `${description}, ${moneyText(netMinor, currency)} before tax, ${vehicle.vehicle}`,
            },
          ],
    ),
  );
  const leftMinor = openMinor - disputedMinor;
  return html`${errorSummary(summary)}
    <form method="post" action="${form.action}">
      ${hiddenCsrf(frame.csrfToken)}
      ${hiddenField('dispute_id', form.disputeId)}
      ${selectField({ ...field('line_id'), label: 'Which line', empty: 'No line: another charge, or an amount', choices: lines })}
      ${moneyField({ ...field('amount'), label: 'Amount', hint: `${moneyText(leftMinor, currency)} is open and not in dispute.`, currency, required: true })}
      ${radioCards({ ...field('reason'), label: 'Why', required: true, choices: form.reasons.map((value) => ({ value, label: capital(disputeReasons[value]) })) })}
      ${textArea({ ...field('note'), label: 'What is wrong', maxLength: 2000, required: false })}
      ${form.dated && dateField({ ...field('on'), label: 'Known since', min: invoice.issuedOn, max: frame.me.today, required: true })}
      ${actionButton({ label: 'Put it in dispute' })}
    </form>`;
}

function capital(words: string): string {
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
}
