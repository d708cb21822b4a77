import { photoPurposes } from '@grainwright/domain';
import type { WorkOrderView } from '@grainwright/operations';
import { instantShown } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';
import { statusWord } from '../../look/notices.ts';
import { dataTable } from '../../look/tables.ts';

type Warned = WorkOrderView['warnedPhotos'][number];

/** For the office: what was said against photos when they came in, and what became of it. Null where nothing was. */
export function warnedPhotosOf({ warnedPhotos, lines }: WorkOrderView, timeZone: string): Html | null {
  if (warnedPhotos.length === 0) return null;
  const shows = ({ purpose, lineId }: Warned) => {
    const words = lines.find(({ id }) => id === lineId)?.words ?? 'the vehicle';
    return `${photoPurposes[purpose]}: ${words}`;
  };
  return dataTable({
    caption: 'Warnings about photos',
    rows: warnedPhotos,
    empty: html``,
    columns: [
      {
        header: 'Photo',
        names: true,
        cell: (photo) => html`<a href="/photos/${photo.id}/original">${shows(photo)}</a>`,
      },
      { header: 'Warning', cell: ({ warnings }) => warnings.map(({ sentence }) => sentence).join(' ') },
      { header: 'What became of it', cell: (photo) => outcome(photo, timeZone) },
    ],
  });
}

function outcome({ retakenBy, override }: Warned, timeZone: string): Html {
  if (retakenBy !== null)
    return html`${statusWord('settled', 'Taken again')}: <a href="/photos/${retakenBy}/original">the new one</a>`;
  if (override === null) return html`${statusWord('waiting', 'Open')}: asked when the work is finished`;
  const { reason, madeBy, madeAt } = override;
  return html`${statusWord('settled', 'Kept')} because “${reason}” (${madeBy}, ${instantShown(madeAt, timeZone)})`;
}
