import { allows, type Problem } from '@grainwright/domain';
import type { ClearingView } from '@grainwright/operations';
import { actionButton, quietLink } from '../../../look/buttons.ts';
import { dayShown, money } from '../../../look/figures.ts';
import {
  dateField,
  errorSummary,
  hiddenCsrf,
  hiddenField,
  moneyField,
  radioCards,
  textField,
} from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { dataTable, emptyState } from '../../../look/tables.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import type { Typed } from '../payments/entry-form.ts';

const kinds = { fee: 'Fee kept', payout: 'Paid out to the bank' } as const;

export interface ClearingPage {
  readonly frame: Frame;
  readonly view: ClearingView;
  readonly movementId: string;
  readonly typed: Typed;
  readonly problem: Problem | null;
}

export function clearingView(page: ClearingPage): Html {
  const { frame, view } = page;
  const { currency, rows, next } = view;
  return officePage({
    ...frame,
    title: 'Card payments',
    heading: 'Card payments',
    lead: html`${money(view.thereMinor, currency)} is with the processor and not yet at the bank.`,
    current: 'clearing',
    body: html`${allows(frame.me.role, 'record_payment') && movementForm(page)}
      <h2>What the processor did</h2>
      ${dataTable({
        caption: 'Fees and payouts, latest first',
        captionHidden: true,
        columns: [
          { header: 'On', names: true, cell: (row) => dayShown(row.occurredOn) },
          { header: 'What', cell: (row) => kinds[row.kind] },
          { header: 'Reference', cell: (row) => row.reference },
          { header: 'Amount', figure: true, cell: (row) => money(row.amountMinor, currency) },
        ],
        rows,
        empty: emptyState(
          'Nothing yet',
          'Fees and payouts of the processor stand here once they are recorded.',
        ),
      })}
      ${next !== null && html`<nav class="buttons" aria-label="Pages of the list">${quietLink({ label: 'Older ones', href: `/office/clearing?past=${next}` })}</nav>`}`,
  });
}

function movementForm({ frame, view, movementId, typed, problem }: ClearingPage): Html {
  const { errorOf, summary } = problemsOf(problem, ['kind', 'amount', 'on', 'reference']);
  const field = (name: string) => ({ name, value: typed(name), error: errorOf(name) });
  const choices = Object.entries(kinds).map(([value, label]) => ({ value, label }));
  return html`${errorSummary(summary)}
    <form method="post" action="/office/clearing">
      ${hiddenCsrf(frame.csrfToken)}
      ${hiddenField('movement_id', movementId)}
      ${radioCards({ ...field('kind'), label: 'What happened', required: true, choices })}
      <div class="field-group">
        ${moneyField({ ...field('amount'), label: 'Amount', currency: view.currency, required: true })}
        ${dateField({ ...field('on'), label: 'On', max: frame.me.today, required: true })}
        ${textField({ ...field('reference'), label: 'Reference', maxLength: 80, required: false })}
      </div>
      ${actionButton({ label: 'Record it' })}
    </form>`;
}
