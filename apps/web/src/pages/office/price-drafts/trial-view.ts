import { formatDecimal, percentOf } from '@grainwright/domain';
import {
  type PriceTrialView,
  type TriedAccountView,
  type TriedWorkView,
  workOrdersTriedMax,
} from '@grainwright/operations';
import { quietLink } from '../../../look/buttons.ts';
import { dayShown, dayText, money, moneyText } from '../../../look/figures.ts';
import { type Fragment, type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { type Column, dataTable, emptyState } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { draftPath } from './draft-view.ts';

export interface TrialPage {
  readonly frame: Frame;
  readonly trial: PriceTrialView;
}

type Sums = PriceTrialView['total'];

/** What the work of the last months would have come to under the draft, a row an account. */
export function trialPage({ frame, trial }: TrialPage): Html {
  const { draft, total } = trial;
  return officePage({
    ...frame,
    title: `What ${draft.name} would change`,
    heading: 'What would change',
    lead: `“${draft.name}” tried on the work of ${dayText(trial.from)} to ${dayText(trial.to)} that has an approval or an estimate that was sent. Nothing of it is changed.`,
    beside: quietLink({ label: draft.name, href: draftPath(draft.id) }),
    current: 'price-book',
    wide: true,
    body: html`${trial.leftOut && notice('info', `Only the newest ${workOrdersTriedMax.toLocaleString('en-US')} work orders were tried`)}
      ${dataTable({
        caption: 'What would change, by account',
        captionHidden: true,
        columns: accountColumns(trial),
        rows: trial.accounts,
        totalsLabel: 'All accounts',
        empty: emptyState(
          'No work to try it on',
          'In these months nothing was approved or sent for approval.',
        ),
      })}
      ${trial.accounts.some(goesOtherWay) && tripsWaived}
      ${notes(total)}`,
  });
}

function accountColumns({ draft, total }: PriceTrialView): readonly Column<TriedAccountView>[] {
  const { currency } = draft;
  return [
    {
      header: 'Account',
      names: true,
      cell: ({ accountId, name, changed }) =>
        changed.length === 0
          ? name
          : html`<a href="${draftPath(draft.id, `trial/${accountId}`)}">${name}</a>`,
    },
    {
      header: 'Work orders',
      figure: true,
      cell: (row) => String(row.workOrders),
      total: String(total.workOrders),
    },
    { header: 'Changed', figure: true, cell: (row) => String(row.changed.length) },
    {
      header: 'Repairs before',
      figure: true,
      cell: (row) => money(row.beforeMinor, currency),
      total: money(total.beforeMinor, currency),
    },
    {
      header: 'Repairs after',
      figure: true,
      cell: (row) => money(row.afterMinor, currency),
      total: money(total.afterMinor, currency),
    },
    {
      header: 'Difference',
      figure: true,
      cell: (row) => difference(row, currency),
      total: difference(total, currency),
    },
    { header: 'In percent', figure: true, cell: (row) => percentWords(row), total: percentWords(total) },
    {
      header: 'With trip and after hours',
      figure: true,
      cell: (row) => withVisits(row, currency),
      total: withVisits(total, currency),
    },
    {
      header: 'By hand',
      figure: true,
      cell: (row) => String(row.byHandLines),
      total: String(total.byHandLines),
    },
  ];
}

function difference(
  { beforeMinor, afterMinor }: Pick<Sums, 'beforeMinor' | 'afterMinor'>,
  currency: string,
): Html {
  return html`<span class="money">${signedText(afterMinor - beforeMinor, currency)}</span>`;
}

function withVisits({ withVisitsBeforeMinor, withVisitsAfterMinor }: Sums, currency: string): Html {
  return html`${money(withVisitsAfterMinor, currency)}<br><span class="hint">${signedText(withVisitsAfterMinor - withVisitsBeforeMinor, currency)}</span>`;
}

/** Repairs go one way, and with the visits’ charges the sum goes the other. */
function goesOtherWay(row: Sums): boolean {
  const repairs = row.afterMinor - row.beforeMinor;
  const withCharges = row.withVisitsAfterMinor - row.withVisitsBeforeMinor;
  return (repairs > 0n && withCharges < 0n) || (repairs < 0n && withCharges > 0n);
}

const tripsWaived = html`<p>Trip charges are waived from the tier’s threshold of repairs, so a rise can lower the total.</p>`;

function signedText(minor: bigint, currency: string): string {
  return `${minor > 0n ? '+' : ''}${moneyText(minor, currency)}`;
}

function percentWords({ beforeMinor, afterMinor }: Pick<Sums, 'beforeMinor' | 'afterMinor'>): string {
  const percent = percentOf(afterMinor - beforeMinor, beforeMinor);
  if (percent === null) return '';
  const text = formatDecimal(percent);
  return `${percent.digits > 0n ? '+' : ''}${text.replace('-', '−')} %`;
}

function notes({ byHandLines, keptWorkOrders }: Sums): Html {
  return html`<ul class="hint">
    <li>Repairs are what was agreed to or asked for, minimums included. The same care factors, tiers, contracts, own prices, caps and further-repair percents count before and after.</li>
    <li>Declined lines are left out; lines that were priced by hand stay as they are.</li>
    ${byHandLines > 0 && html`<li>${byHandLines === 1 ? '1 line' : `${byHandLines} lines`} would have to be priced by hand: the new list has no rate for ${byHandLines === 1 ? 'it' : 'them'}. Counted at the old price.</li>`}
    ${keptWorkOrders > 0 && html`<li>${keptWorkOrders === 1 ? '1 work order is' : `${keptWorkOrders} work orders are`} counted at the old price: the account’s terms or the write-up have changed since, so what priced them can’t be worked out again.</li>`}
  </ul>`;
}

const workOrdersShown = 200;

/** The work orders of one account that the draft would price otherwise, with old and new price and how it came about. */
export function triedAccountPage({
  frame,
  trial,
  account,
}: TrialPage & { readonly account: TriedAccountView }): Html {
  const { draft } = trial;
  const { currency } = draft;
  const shown = account.changed.slice(0, workOrdersShown);
  return officePage({
    ...frame,
    title: `What ${draft.name} would change for ${account.name}`,
    heading: account.name,
    lead: `What “${draft.name}” would change on the work of ${dayText(trial.from)} to ${dayText(trial.to)}: ${signedText(account.afterMinor - account.beforeMinor, currency)} of repairs, ${percentWords(account)}.`,
    beside: quietLink({ label: 'All accounts', href: draftPath(draft.id, 'trial') }),
    current: 'price-book',
    wide: true,
    body: html`${dataTable({
      caption: 'Work orders whose price changes',
      captionHidden: true,
      columns: [
        {
          header: 'Work order',
          names: true,
          cell: (work: TriedWorkView) =>
            html`<a href="/office/work-orders/${work.workOrderId}">${workOrderNumber(work.number)}</a>`,
        },
        { header: 'Day', cell: (work) => dayShown(work.day) },
        { header: 'Vehicle', cell: (work) => work.vehicle },
        { header: 'Lines', cell: (work) => lines(work, currency) },
        { header: 'Before', figure: true, cell: (work) => money(work.beforeMinor, currency) },
        { header: 'After', figure: true, cell: (work) => money(work.afterMinor, currency) },
        { header: 'Difference', figure: true, cell: (work) => difference(work, currency) },
      ],
      rows: shown,
      empty: emptyState('Nothing changes', 'No work order of this account would have another price.'),
    })}
    ${account.changed.length > shown.length && html`<p class="hint">The newest ${shown.length} of ${account.changed.length}.</p>`}
    ${notes(account)}`,
  });
}

function lines(work: TriedWorkView, currency: string): Html {
  return html`<ul class="tried-lines">${work.lines.map((line) => html`<li>${line.label}: ${lineWords(line, currency)}</li>`)}</ul>`;
}

function lineWords({ before, after, byHand }: TriedWorkView['lines'][number], currency: string): Fragment {
  if (byHand) return html`${moneyText(before.netMinor, currency)}, no rate in the new list: by hand`;
  if (before.netMinor === after.netMinor) return html`${moneyText(before.netMinor, currency)} as before`;
  return html`${moneyText(before.netMinor, currency)} → <strong>${moneyText(after.netMinor, currency)}</strong>
    <span class="trail">before: ${before.trail}</span><span class="trail">after: ${after.trail}</span>`;
}
