import { daysBetween, type Problem, type WaitsFor } from '@grainwright/domain';
import type { WaitingCounts, WorkOrderListView } from '@grainwright/operations';
import { quietButton, quietLink } from '../../../look/buttons.ts';
import { dayShown, money } from '../../../look/figures.ts';
import { type Choice, hiddenField, selectField, textField } from '../../../look/forms.ts';
import { attributes, type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { dataTable, emptyState } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';
import { type ListFilter, listAddress } from '../../work-order/list-filter.ts';
import { stateShown, waitsForWords, workOrderNumber } from '../../work-order/state-words.ts';
import { questionOpenWords } from '../../work-order/thread-parts.ts';

const path = '/office/work-orders';

export interface OfficeWorkOrders {
  readonly frame: Frame;
  readonly filter: ListFilter;
  readonly counts: WaitingCounts;
  readonly accounts: readonly Choice[];
  readonly list: WorkOrderListView;
  readonly problem: Problem | null;
}

export function officeWorkOrdersView(page: OfficeWorkOrders): Html {
  const { frame, filter } = page;
  return officePage({
    title: 'Work orders',
    heading: 'Work orders',
    wide: true,
    beside: [
      quietLink({ label: 'Board', href: '/office/board' }),
      quietLink({ label: 'Find a vehicle', href: '/office/vehicles' }),
    ],
    ...frame,
    current: 'work-orders',
    body: html`
      ${board(filter, page.counts)}
      ${filterForm(page)}
      ${table(page)}
      ${page.list.next !== null && html`<p>${quietLink({ label: 'Older ones', href: listAddress(path, filter, { below: page.list.next }) })}</p>`}`,
  });
}

const counted = [
  'technician',
  'hold',
  'approval',
  'acceptance',
  'po',
  'invoice',
  'money',
] as const satisfies readonly WaitsFor[];

/** What waits for whom, with how many; each is a link to just those. */
function board(filter: ListFilter, counts: WaitingCounts): Html {
  const entry = (waitsFor: WaitsFor | null, words: string, count: number | null) =>
    html`<li><a ${attributes({
      href: listAddress(path, filter, { waitsFor }),
      'aria-current': filter.waitsFor === waitsFor ? 'true' : null,
    })}>${count !== null && html`<span class="board-count">${count}</span> `}<span>${words}</span></a></li>`;
  return html`<nav aria-label="What they wait for"><ul class="board">
    ${entry(null, 'all', null)}
    ${counted.map((each) => entry(each, `for ${waitsForWords[each]}`, counts[each]))}
    ${entry('nobody', 'over', null)}
  </ul></nav>`;
}

function filterForm({ filter, accounts, problem }: OfficeWorkOrders): Html {
  return html`<form method="get" action="${path}" class="filters">
    ${filter.waitsFor !== null && hiddenField('waits', filter.waitsFor)}
    ${filter.technicianId !== null && hiddenField('technician', filter.technicianId)}
    ${textField({ name: 'q', label: 'Find', hint: 'Number, VIN, last 8, RO, PO, stock', type: 'search', value: filter.text, error: problem?.detail, maxLength: 60 })}
    ${selectField({
      name: 'account',
      label: 'Account',
      empty: 'Every account',
      value: filter.accountId ?? '',
      choices: accounts,
    })}
    ${quietButton({ label: 'Show' })}
    ${isNarrowed(filter) && quietLink({ label: 'Show all', href: path })}
  </form>`;
}

function table({ frame, filter, list }: OfficeWorkOrders): Html {
  const { currency } = frame.me.business;
  return dataTable({
    caption:
      filter.waitsFor === null
        ? 'Work orders, newest first'
        : `Waiting for ${waitsForWords[filter.waitsFor]}, newest first`,
    rows: list.rows,
    empty: nothing(filter),
    columns: [
      {
        header: 'Number',
        names: true,
        cell: (row) => html`<a href="/office/work-orders/${row.id}">${workOrderNumber(row.number)}</a>`,
      },
      { header: 'Account', cell: (row) => row.accountName },
      { header: 'Vehicle', cell: (row) => row.vehicle },
      { header: 'Numbers', cell: (row) => row.numbers },
      { header: 'Technician', cell: (row) => row.technician },
      { header: 'Day', cell: (row) => dayShown(row.day) },
      {
        header: 'Days',
        figure: true,
        cell: (row) => row.waitsFor !== 'nobody' && Math.max(0, daysBetween(row.day, frame.me.today)),
      },
      { header: 'Status', cell: (row) => stateShown(row.state) },
      {
        header: 'Waits for',
        cell: (row) =>
          html`${row.waitsFor !== 'nobody' && waitsForWords[row.waitsFor]}${row.questionOpen && html` <b>${questionOpenWords}</b>`}`,
      },
      {
        header: 'Repairs',
        figure: true,
        cell: (row) => row.repairsMinor !== null && money(row.repairsMinor, currency),
      },
    ],
  });
}

function isNarrowed({ text, waitsFor, accountId, technicianId }: ListFilter): boolean {
  return text !== '' || waitsFor !== null || accountId !== null || technicianId !== null;
}

function nothing(filter: ListFilter): Html {
  if (!isNarrowed(filter))
    return emptyState(
      'No work orders yet',
      'A technician writes them up beside the vehicle.',
      quietLink({ label: 'Write up a vehicle', href: '/field/write-up' }),
    );
  return emptyState(
    'Nothing fits',
    'No work order fits all that is asked above.',
    quietLink({ label: 'Show all', href: path }),
  );
}
