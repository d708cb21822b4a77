import type { Problem } from '@grainwright/domain';
import type { AccountView, PurchaseOrderView, StandingApprovalView } from '@grainwright/operations';
import { actionButton, quietLink } from '../../../look/buttons.ts';
import { fieldGroup } from '../../../look/field-group.ts';
import { moneyText } from '../../../look/figures.ts';
import { dateField, errorSummary, hiddenCsrf, moneyField, textField } from '../../../look/forms.ts';
import { type Fragment, type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';

export interface EndApprovalPage {
  readonly frame: Frame;
  readonly view: AccountView;
  readonly approval: StandingApprovalView;
  readonly validTo: string;
  readonly problem: Problem | null;
}

/** Gives a standing approval its last day. */
export function endApprovalView({ frame, view, approval, validTo, problem }: EndApprovalPage): Html {
  const { summary, errorOf } = problemsOf(problem, ['valid_to']);
  const base = `/office/accounts/${view.account.id}`;
  return formPage({
    frame,
    base,
    heading: 'End a standing approval',
    lead: `${view.account.name}: ${approval.words} (${approval.note}). What it approved stays approved.`,
    body: html`<form method="post" action="${`${base}/standing-approvals/${approval.id}/end`}" novalidate>
      ${hiddenCsrf(frame.csrfToken)}
      ${errorSummary(summary)}
      ${fieldGroup('Last day', [
        dateField({
          name: 'valid_to',
          label: 'Last day',
          hint: 'With yesterday it counts no more from now on',
          value: validTo,
          error: errorOf('valid_to'),
          required: true,
        }),
      ])}
      <div class="buttons">${actionButton({ label: 'End it' })}</div>
    </form>`,
  });
}

export interface OrderTyped {
  readonly cap: string;
  readonly validTo: string;
  readonly note: string;
}

export interface ChangeOrderPage {
  readonly frame: Frame;
  readonly view: AccountView;
  readonly order: PurchaseOrderView;
  readonly typed: OrderTyped;
  readonly problem: Problem | null;
}

/** What the account raised or lengthened; the number stays. */
export function changeOrderView({ frame, view, order, typed, problem }: ChangeOrderPage): Html {
  const { summary, errorOf } = problemsOf(problem, ['cap', 'valid_to', 'note']);
  const base = `/office/accounts/${view.account.id}`;
  return formPage({
    frame,
    base,
    heading: `Change purchase order ${order.number}`,
    lead: `${view.account.name}: ${moneyText(order.invoicedMinor, view.currency)} is invoiced on it.`,
    body: html`<form method="post" action="${`${base}/purchase-orders/${order.id}/change`}" novalidate>
      ${hiddenCsrf(frame.csrfToken)}
      ${errorSummary(summary)}
      ${fieldGroup('Purchase order', [
        moneyField({
          name: 'cap',
          label: 'Cap',
          currency: view.currency,
          hint: 'With tax, over all its invoices. Empty means no cap.',
          value: typed.cap,
          error: errorOf('cap'),
          required: false,
        }),
        dateField({
          name: 'valid_to',
          label: 'Last day',
          hint: 'Empty if it has no end',
          value: typed.validTo,
          error: errorOf('valid_to'),
          required: false,
        }),
        textField({
          name: 'note',
          label: 'Note',
          value: typed.note,
          error: errorOf('note'),
          maxLength: 500,
          required: false,
        }),
      ])}
      <div class="buttons">${actionButton({ label: 'Save the purchase order' })}</div>
    </form>`,
  });
}

function formPage(page: {
  readonly frame: Frame;
  readonly base: string;
  readonly heading: string;
  readonly lead: Fragment;
  readonly body: Html;
}): Html {
  const { frame, base, heading, lead, body } = page;
  return officePage({
    ...frame,
    title: heading,
    heading,
    lead,
    beside: quietLink({ label: 'Back to the account', href: base }),
    current: 'accounts',
    body,
  });
}
