import { displayPercent, type Problem } from '@grainwright/domain';
import type { SavingsView } from '@grainwright/operations';
import { quietButton, quietLink } from '../../../look/buttons.ts';
import { sums } from '../../../look/document-sheet.ts';
import { dayText, money } from '../../../look/figures.ts';
import { dateField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { accountPage } from '../../../look/layout.ts';
import { emptyState } from '../../../look/tables.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';

export function savingsView(page: {
  readonly frame: Frame;
  readonly from: string;
  readonly to: string;
  readonly view: SavingsView | null;
  readonly problem: Problem | null;
}): Html {
  const { frame, view } = page;
  const { errorOf } = problemsOf(page.problem, ['from', 'to']);
  return accountPage({
    ...frame,
    title: 'Against new parts',
    heading: 'Against new parts',
    lead: 'Only vehicles for which a new part was quoted; nothing is guessed.',
    beside: quietLink({ label: 'All invoices', href: '/account/invoices' }),
    current: 'invoices',
    body: html`<form class="filters" method="get" action="/account/savings">
        ${dateField({ name: 'from', label: 'Invoiced from', value: page.from, error: errorOf('from') })}
        ${dateField({ name: 'to', label: 'Through', value: page.to, error: errorOf('to') })}
        ${quietButton({ label: 'Show' })}
      </form>
      ${view && figures(view)}`,
  });
}

function figures({ vehicles, quotedMinor, repairsMinor, saved, currency, from, to }: SavingsView): Html {
  if (saved === null)
    return emptyState(
      'No quote in these days',
      'Where a new part was quoted, the repair is compared with it here.',
    );
  const words = vehicles === 1 ? 'One vehicle' : `${vehicles} vehicles`;
  const less = saved.savedMinor >= 0n;
  return html`<section><h2>${words}, ${dayText(from)} to ${dayText(to)}</h2>
    ${sums([
      { term: 'New parts as quoted', value: money(quotedMinor, currency) },
      { term: 'Repairs', value: money(repairsMinor, currency) },
      {
        term: less ? `Less, ${displayPercent(saved.percent)}` : 'More than new parts',
        value: money(less ? saved.savedMinor : -saved.savedMinor, currency),
      },
    ])}
    <p class="hint">Both before tax. Repairs with their minimum, before after-hours and trip; invoices that were voided
    count for nothing.</p></section>`;
}
