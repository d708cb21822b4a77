import type { Problem } from '@grainwright/domain';
import type { PriceDraftEntry, PriceDraftList } from '@grainwright/operations';
import { actionButton, quietLink } from '../../../look/buttons.ts';
import { fieldGroup } from '../../../look/field-group.ts';
import { dayShown, instantShown } from '../../../look/figures.ts';
import { dateField, errorSummary, hiddenCsrf, hiddenField, textField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { type StatusKind, statusWord } from '../../../look/notices.ts';
import { dataTable, emptyState } from '../../../look/tables.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import { draftPath } from './draft-view.ts';

export const startFields = ['name', 'counts_from', 'copied_from'] as const;

export interface DraftsPage {
  readonly frame: Frame;
  readonly list: PriceDraftList;
  readonly id: string;
  readonly values: Readonly<Partial<Record<(typeof startFields)[number], string>>>;
  readonly problem: Problem | null;
}

/** All price lists in the making, what became of earlier ones, and the form that starts another. */
export function draftsPage(page: DraftsPage): Html {
  const { frame, list, values } = page;
  const { errorOf, summary } = problemsOf(page.problem, startFields);
  return officePage({
    ...frame,
    title: 'Price lists in the making',
    heading: 'Price lists in the making',
    lead: 'Write the next list, try it on the work of the last three months, and put it into force from a day on.',
    beside: quietLink({ label: 'Price book', href: '/office/price-book' }),
    current: 'price-book',
    body: html`${errorSummary(summary)}
      ${dataTable({
        caption: 'Price lists',
        captionHidden: true,
        columns: [
          {
            header: 'Name',
            names: true,
            cell: (draft: PriceDraftEntry) => html`<a href="${draftPath(draft.id)}">${draft.name}</a>`,
          },
          { header: 'Counts from', cell: (draft) => dayShown(draft.countsFrom) },
          { header: 'Standing', cell: (draft) => standing(draft) },
          { header: 'Rows', figure: true, cell: (draft) => String(draft.rateCount) },
          {
            header: 'Started',
            cell: (draft) => html`${draft.startedByName}, ${instantShown(draft.startedAt, list.timeZone)}`,
          },
        ],
        rows: list.drafts,
        empty: emptyState('No price list in the making', 'Start one below: it begins as the list in force.'),
      })}
      <form method="post" action="/office/price-book/drafts" novalidate>
        ${hiddenCsrf(frame.csrfToken)}${hiddenField('id', page.id)}
        ${fieldGroup('Start a price list', [
          textField({
            name: 'name',
            label: 'Name',
            hint: 'As you call it, like Spring list',
            value: values.name,
            error: errorOf('name'),
            maxLength: 80,
            required: true,
          }),
          dateField({
            name: 'counts_from',
            label: 'Counts from',
            hint: 'It can be changed until the list is put into force',
            value: values.counts_from,
            error: errorOf('counts_from'),
            required: true,
          }),
          dateField({
            name: 'copied_from',
            label: 'Start from the list of',
            hint: 'Empty: of the day it counts from',
            value: values.copied_from,
            error: errorOf('copied_from'),
            required: false,
          }),
        ])}
        <div class="buttons">${actionButton({ label: 'Start it' })}</div>
      </form>`,
  });
}

const standings: Readonly<Record<PriceDraftEntry['state'], readonly [StatusKind, string]>> = {
  open: ['moving', 'in the making'],
  published: ['settled', 'put into force'],
  discarded: ['stopped', 'discarded'],
};

function standing({ state, endedByName }: PriceDraftEntry): Html {
  const [kind, word] = standings[state];
  return html`${statusWord(kind, word)}${endedByName !== null && html` <span class="hint">by ${endedByName}</span>`}`;
}
