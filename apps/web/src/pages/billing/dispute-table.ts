import { disputeReasons } from '@grainwright/domain';
import type { DisputeView } from '@grainwright/operations';
import { ageText, dayShown, dayText, money } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';
import { statusWord } from '../../look/notices.ts';
import { type Column, dataTable } from '../../look/tables.ts';

/** Disputes with their answers; the first column leads to each where `base` says where they are. */
export function disputeTable(table: {
  readonly caption: string;
  readonly rows: readonly DisputeView[];
  readonly base: string | null;
  readonly columns: readonly Column<DisputeView>[];
  readonly empty: Html;
}): Html {
  const { caption, rows, base, empty } = table;
  return dataTable({
    caption,
    columns: [
      {
        header: 'About',
        names: true,
        cell: (row) =>
          base === null ? aboutOf(row) : html`<a href="${`${base}/${row.id}`}">${aboutOf(row)}</a>`,
      },
      ...table.columns,
      { header: 'Why', cell: whyOf },
      {
        header: 'Since',
        cell: (row) => html`${dayShown(row.openedOn)} ${ageText(row.days)}`,
      },
      { header: 'Answer', cell: answerOf },
      { header: 'Amount', figure: true, cell: (row) => money(row.amountMinor, row.currency) },
    ],
    rows,
    empty,
  });
}

export function aboutOf(dispute: DisputeView): string {
  return dispute.lineDescription ?? `A part of ${dispute.invoiceNumber}`;
}

function whyOf({ reason, note, openedByName, byContact }: DisputeView): Html {
  const words = disputeReasons[reason];
  return html`${words}${note !== '' && html`: ${note}`} (${byContact ? openedByName : `noted by ${openedByName}`})`;
}

export function answerOf({ answer, voidedOn }: DisputeView): Html {
  if (answer === null && voidedOn !== null) return statusWord('settled', 'the invoice is void');
  if (answer === null) return statusWord('waiting', 'no answer yet');
  const note = answer.note === '' ? '' : `: ${answer.note}`;
  return answer.answer === 'credited'
    ? html`${statusWord('settled', `credited by ${answer.creditNoteNumber ?? ''}`)}${note}`
    : html`${statusWord('stopped', 'the amount stands')}, ${dayText(answer.answeredOn)}${note}`;
}
