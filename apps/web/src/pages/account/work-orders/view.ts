import type { CertificateWarning, Problem } from '@grainwright/domain';
import type { WorkOrderListView } from '@grainwright/operations';
import { quietButton, quietLink } from '../../../look/buttons.ts';
import { dayShown, money } from '../../../look/figures.ts';
import { selectField, textField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { accountPage } from '../../../look/layout.ts';
import { dataTable, emptyState } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';
import { certificateNotice } from '../../work-order/certificate-notice.ts';
import { type ListFilter, listAddress } from '../../work-order/list-filter.ts';
import { stateShown, waitsFors, waitsForWords, workOrderNumber } from '../../work-order/state-words.ts';

const path = '/account/work-orders';

export interface AccountWorkOrders {
  readonly frame: Frame;
  readonly filter: ListFilter;
  readonly list: WorkOrderListView;
  readonly problem: Problem | null;
  readonly certificateWarning: CertificateWarning | null;
}

/** Every work order of the account, newest first. */
export function accountWorkOrdersView(view: AccountWorkOrders): Html {
  const { frame, filter, list, problem, certificateWarning } = view;
  const { currency } = frame.me.business;
  const rows = list.rows;
  return accountPage({
    title: 'Work orders',
    heading: 'Work orders',
    lead: 'Every vehicle written up for you, newest first.',
    person: frame.person,
    current: 'vehicles',
    csrfToken: frame.csrfToken,
    assets: frame.assets,
    elsewhere: frame.elsewhere,
    body: html`
      ${certificateNotice(certificateWarning, 'customer')}
      ${filterForm(filter, problem)}
      ${dataTable({
        caption: 'Work orders',
        captionHidden: true,
        rows,
        empty: nothing(filter),
        columns: [
          {
            header: 'Number',
            names: true,
            cell: (row) => html`<a href="/account/work-orders/${row.id}">${workOrderNumber(row.number)}</a>`,
          },
          { header: 'Vehicle', cell: (row) => row.vehicle },
          { header: 'Your numbers', cell: (row) => row.numbers },
          { header: 'Day', cell: (row) => dayShown(row.day) },
          { header: 'Status', cell: (row) => stateShown(row.state) },
          {
            header: 'Repairs',
            figure: true,
            cell: (row) => row.repairsMinor !== null && money(row.repairsMinor, currency),
          },
        ],
      })}
      ${list.next !== null && html`<p>${quietLink({ label: 'Older ones', href: listAddress(path, filter, { below: list.next }) })}</p>`}`,
  });
}

function filterForm(filter: ListFilter, problem: Problem | null): Html {
  return html`<form method="get" action="${path}" class="filters">
    ${textField({ name: 'q', label: 'Find', hint: 'Number, VIN, last 8, RO, PO, stock', type: 'search', value: filter.text, error: problem?.detail, maxLength: 60 })}
    ${selectField({
      name: 'waits',
      label: 'Waits for',
      empty: 'Anything',
      value: filter.waitsFor ?? '',
      choices: waitsFors.map((each) => ({ value: each, label: waitsForWords[each] })),
    })}
    ${quietButton({ label: 'Show' })}
  </form>`;
}

function nothing(filter: ListFilter): Html {
  if (filter.text === '' && filter.waitsFor === null)
    return emptyState('No work orders yet', 'They stand here once a vehicle of yours is written up.');
  return emptyState(
    'Nothing fits',
    'No work order of yours fits what you look for.',
    quietLink({ label: 'Show all', href: path }),
  );
}
