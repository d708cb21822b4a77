import { sumMinor } from '@grainwright/domain';
import type { IssuedRun } from '@grainwright/operations';
import { quietLink } from '../../../look/buttons.ts';
import { dayText, money } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { dataTable, emptyState } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';
import { invoiceWhen, waitWords } from './wait-words.ts';

/** What a run issued, what stood in the way and what is not ready yet. Sent again it issues nothing twice. */
export function runView({ frame, run }: { readonly frame: Frame; readonly run: IssuedRun }): Html {
  const { issued, refused, waiting } = run;
  const { currency } = frame.me.business;
  return officePage({
    ...frame,
    title: 'Invoices issued',
    heading: issued.length === 1 ? 'One invoice issued' : `${issued.length} invoices issued`,
    lead: `Of work through ${dayText(run.through)}.`,
    beside: quietLink({ label: 'Ready to invoice', href: '/office/invoices/ready' }),
    current: 'invoices',
    body: html`${refused.length > 0 && notice('problem', 'Not everything could be issued', 'What stood in the way is said beside each below.')}
      ${dataTable({
        caption: 'Issued',
        totalsLabel: 'Together',
        columns: [
          {
            header: 'Invoice',
            names: true,
            cell: (row) => html`<a href="/office/invoices/${row.id}">${row.number}</a>`,
          },
          { header: 'Account', cell: (row) => row.accountName },
          { header: 'Vehicles', figure: true, cell: (row) => String(row.vehicles.length) },
          {
            header: 'Total',
            figure: true,
            cell: (row) => money(row.totalMinor, currency),
            total: money(sumMinor(issued.map((row) => row.totalMinor)), currency),
          },
        ],
        rows: issued,
        empty: emptyState('No invoice was issued', 'Nothing was ready, or it was issued before.'),
      })}
      ${
        refused.length > 0 &&
        reasons(
          'Could not be issued',
          refused.map(({ invoice, problem }) => ({ invoice, reason: problem.detail })),
        )
      }
      ${
        waiting.length > 0 &&
        reasons(
          'Not ready yet',
          waiting.map((invoice) => ({
            invoice,
            reason: invoice.waits === null ? '' : waitWords(invoice.waits),
          })),
        )
      }`,
  });
}

function reasons(
  caption: string,
  rows: readonly { readonly invoice: IssuedRun['waiting'][number]; readonly reason: string }[],
): Html {
  return dataTable({
    caption,
    columns: [
      { header: 'Account', names: true, cell: (row) => row.invoice.accountName },
      { header: 'Of', cell: (row) => invoiceWhen(row.invoice) },
      { header: 'Why', cell: (row) => row.reason },
    ],
    rows,
    empty: emptyState(caption, 'Nothing.'),
  });
}
