import { photoPurposes } from '@grainwright/domain';
import type { WorkOrderView } from '@grainwright/operations';
import { type Html, html } from '../../../look/html.ts';

/** Each photo by itself: what is on record of it, and where parts of it are covered for everybody but the staff. */
export function coveringLinks(view: Pick<WorkOrderView, 'photos' | 'lines' | 'recordings'>): Html | null {
  const kept = view.photos.filter(({ deletion }) => deletion === null);
  const recordings = view.recordings.filter(({ deletion }) => deletion === null);
  if (kept.length + recordings.length === 0) return null;
  const words = (lineId: string | null) =>
    view.lines.find((line) => line.id === lineId)?.words ?? 'the vehicle';
  return html`<details class="unprinted"><summary>Each photo: what its camera wrote, and covering faces, license plates or addresses</summary>
    <ul>${kept.map(
      (photo) =>
        html`<li><a href="/office/photos/${photo.id}/covering">${photoPurposes[photo.purpose]}, ${words(photo.lineId)}</a>${photo.coveredOn !== null && ' (parts covered)'}</li>`,
    )}${recordings.map(
      ({ id }) =>
        html`<li><a href="/office/recordings/${id}/withholding">Who sees the walk-around recording</a></li>`,
    )}</ul></details>`;
}
