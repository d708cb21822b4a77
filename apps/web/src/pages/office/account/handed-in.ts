import type { HandedInView } from '@grainwright/operations';
import { dayShown, instantShown } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { statusWord } from '../../../look/notices.ts';
import { dataTable } from '../../../look/tables.ts';
import { certificateWords } from '../account-words.ts';

const standingWords = {
  to_check: statusWord('problem', 'to be checked'),
  confirmed: statusWord('settled', 'confirmed'),
  not_taken: statusWord('stopped', 'not taken'),
} as const;

/** Certificates that the account handed in, each leading to where it is checked; nothing where there are none. */
export function handedInPart(rows: readonly HandedInView[], timeZone: string): Html {
  return dataTable({
    caption: 'Handed in by the account',
    columns: [
      {
        header: 'Number',
        names: true,
        cell: (each) =>
          html`<a class="code long-name" href="/office/handed-in/${each.id}">${each.number}</a>`,
      },
      { header: 'Kind', cell: (each) => certificateWords[each.kind] },
      { header: 'From', cell: (each) => dayShown(each.validFrom) },
      { header: 'To', cell: (each) => (each.validTo === null ? 'no end' : dayShown(each.validTo)) },
      {
        header: 'Handed in',
        cell: (each) => html`${each.handedInBy}, ${instantShown(each.handedInAt, timeZone)}`,
      },
      { header: 'Standing', cell: (each) => standingWords[each.standing] },
    ],
    rows,
    empty: html``,
  });
}
