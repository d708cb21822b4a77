import { allows, displayPercent } from '@grainwright/domain';
import type { LateChargeList } from '@grainwright/operations';
import { actionButton } from '../../../look/buttons.ts';
import { dayShown, money } from '../../../look/figures.ts';
import { hiddenCsrf } from '../../../look/forms.ts';
import { attributes, type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { dataTable, emptyState } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';

export interface LateChargesPage {
  readonly frame: Frame;
  readonly list: LateChargeList;
  /** How many were charged just now; null before. */
  readonly charged: number | null;
}

const adviser =
  'How much may be charged, and what must be agreed in writing before, is a matter of local law: a licensed adviser decides.';

export function lateChargesView({ frame, list, charged }: LateChargesPage): Html {
  const off = list.percent.digits === 0n;
  return officePage({
    ...frame,
    title: 'Late charges',
    heading: 'Late charges',
    lead: off
      ? 'They are off.'
      : `${displayPercent(list.percent)} a month on what is past due by more than ${list.graceDays} days and not disputed`,
    current: 'late-charges',
    body: html`${
      charged !== null &&
      notice(
        'done',
        charged === 1 ? 'One late charge is made' : `${charged} late charges are made`,
        'Each is a document of its own, due at once.',
      )
    }
      ${off ? html`<p>Nothing is charged for paying late until the owner of the business sets a per cent in its settings.</p>` : due(frame, list)}
      <p class="hint">${adviser}</p>`,
  });
}

function due(frame: Frame, list: LateChargeList): Html {
  const { currency, rows } = list;
  const may = allows(frame.me.role, 'record_payment') && rows.length > 0;
  return html`<form method="post" action="/office/late-charges">
    ${hiddenCsrf(frame.csrfToken)}
    ${dataTable({
      caption: 'What may be charged today, once a month for each invoice',
      totalsLabel: 'All of them',
      columns: [
        {
          header: 'Charge',
          cell: (row) =>
            html`<label class="check"><input ${attributes({ type: 'checkbox', name: 'invoice_id', value: row.id, checked: true })}> <span class="heard">Charge for ${row.number}</span></label>`,
        },
        {
          header: 'Invoice',
          names: true,
          cell: (row) => html`<a href="/office/invoices/${row.id}">${row.number}</a>`,
        },
        { header: 'Account', cell: (row) => row.accountName },
        { header: 'Due', cell: (row) => dayShown(row.dueOn) },
        { header: 'Open', figure: true, cell: (row) => money(row.openMinor, currency) },
        { header: 'In dispute', figure: true, cell: (row) => money(row.disputedMinor, currency) },
        {
          header: 'Late charge',
          figure: true,
          cell: (row) => money(row.amountMinor, currency),
          total: money(list.totalMinor, currency),
        },
      ],
      rows,
      empty: emptyState('Nothing to charge', 'No invoice is late enough, or all were charged this month.'),
    })}
    ${may && actionButton({ label: 'Charge what is ticked' })}
  </form>`;
}
