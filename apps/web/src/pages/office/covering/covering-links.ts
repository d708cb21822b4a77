import { allows, photoPurposes } from '@grainwright/domain';
import type { WorkOrderView } from '@grainwright/operations';
import { type Html, html } from '../../../look/html.ts';
import type { Frame } from '../../person.ts';

/** Where parts of each photo are covered for everybody but the staff. */
export function coveringLinks(
  { me }: Frame,
  view: Pick<WorkOrderView, 'photos' | 'lines' | 'recordings'>,
): Html | null {
  const kept = view.photos.filter(({ deletion }) => deletion === null);
  if (kept.length + view.recordings.length === 0 || !allows(me.role, 'cover_photos')) return null;
  const words = (lineId: string | null) =>
    view.lines.find((line) => line.id === lineId)?.words ?? 'the vehicle';
  return html`<details class="unprinted"><summary>Cover faces, license plates or addresses</summary>
    <ul>${kept.map(
      (photo) =>
        html`<li><a href="/office/photos/${photo.id}/covering">${photoPurposes[photo.purpose]}, ${words(photo.lineId)}</a>${photo.coveredOn !== null && ' (parts covered)'}</li>`,
    )}${view.recordings.map(
      ({ id }) =>
        html`<li><a href="/office/recordings/${id}/withholding">Who sees the walk-around recording</a></li>`,
    )}</ul></details>`;
}
