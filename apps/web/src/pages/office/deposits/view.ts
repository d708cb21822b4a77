import type { Problem } from '@grainwright/domain';
import type { PaymentEntryView } from '@grainwright/operations';
import { actionButton, quietLink } from '../../../look/buttons.ts';
import {
  dateField,
  errorSummary,
  hiddenCsrf,
  hiddenField,
  moneyField,
  radioCards,
  textField,
} from '../../../look/forms.ts';
import { attributes, type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import type { Typed } from '../payments/entry-form.ts';
import { methodChoices } from '../payments/form-view.ts';

export interface DepositForm {
  readonly frame: Frame;
  readonly account: PaymentEntryView['account'];
  readonly paymentId: string;
  /** The work order that it is for, where it is for a certain one. */
  readonly workOrderNumber: string | null;
  readonly typed: Typed;
  readonly problem: Problem | null;
}

/** A deposit is a debt to the customer until an invoice takes it, so it has a form of its own. */
export function depositFormView(form: DepositForm): Html {
  const { frame, account, typed, workOrderNumber } = form;
  const { currency } = frame.me.business;
  const { errorOf, summary } = problemsOf(form.problem, ['method', 'amount', 'received_on', 'reference']);
  const field = (name: string) => ({ name, value: typed(name), error: errorOf(name) });
  return officePage({
    ...frame,
    scripts: [frame.assets.sending],
    title: 'Record a deposit',
    heading: 'Record a deposit',
    lead:
      workOrderNumber === null
        ? `From ${account.name}, for what is invoiced next`
        : `From ${account.name}, for work order ${workOrderNumber}`,
    current: 'deposits',
    beside: quietLink({ label: 'Deposits', href: '/office/payments?show=deposits' }),
    body: html`${errorSummary(summary)}
      <form ${attributes({ method: 'post', action: '/office/deposits/new', 'data-sending': 'Recording…' })}>
        ${hiddenCsrf(frame.csrfToken)}
        ${hiddenField('payment_id', form.paymentId)}
        ${hiddenField('account', account.id)}
        ${hiddenField('work_order_id', typed('work_order_id'))}
        ${radioCards({ ...field('method'), label: 'How', required: true, choices: methodChoices })}
        <div class="field-group">
          ${moneyField({ ...field('amount'), label: 'Amount received', currency, required: true })}
          ${dateField({ ...field('received_on'), label: 'Received on', max: frame.me.today, required: true })}
          ${textField({ ...field('reference'), label: 'Reference', maxLength: 80, required: false })}
        </div>
        <p>It is held until an invoice is issued, and is then taken off what is due.</p>
        ${actionButton({ label: 'Record the deposit' })}
      </form>`,
  });
}
