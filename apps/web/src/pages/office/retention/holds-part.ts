import { instantShown } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { dataTable, emptyState } from '../../../look/tables.ts';
import { holdWords } from '../legal-holds/view.ts';
import type { RetentionPage } from './view.ts';

/** What is kept in spite of every rule. */
export function standingHolds({ frame, view }: Pick<RetentionPage, 'frame' | 'view'>): Html {
  return dataTable({
    caption: 'Legal holds in force',
    rows: view.holds,
    empty: html`<h2>Legal holds in force</h2>${emptyState('No hold', 'A hold is placed on the page of a work order or an account. It beats every rule.')}`,
    columns: [
      {
        header: 'Hold',
        names: true,
        cell: (hold) => {
          const of =
            hold.workOrderId === null
              ? `/office/accounts/${hold.accountId}`
              : `/office/work-orders/${hold.workOrderId}`;
          return html`<a href="${of}/legal-holds">${holdWords(hold)}</a>`;
        },
      },
      { header: 'Why', cell: ({ reason }) => reason },
      { header: 'Placed by', cell: ({ placedByName }) => placedByName },
      { header: 'When', cell: ({ placedAt }) => instantShown(placedAt, frame.me.business.timeZone) },
    ],
  });
}
