import { photoPurposes } from '@grainwright/domain';
import type { PicturedPart, PicturedPhoto } from '@grainwright/operations';
import { beforeAfter, type Picture, pictureRow } from '../../../look/before-after.ts';
import { type Html, html } from '../../../look/html.ts';

/** Before and after of each part, as it is signed for. */
export function picturedParts(parts: readonly PicturedPart[]): Html {
  if (parts.length === 0) return html`<p>There are no pictures of this work. Look at the vehicle itself.</p>`;
  return html`${parts.map(partShown)}`;
}

/** The first picture before and the last one after are the pair; the others stand below it, or alone where there is none. */
function partShown({ label, before, stopped, after }: PicturedPart): Html {
  const [first] = before;
  const last = after.at(-1);
  const row = (photos: readonly PicturedPhoto[]) =>
    photos.length > 0 &&
    pictureRow(photos.map((photo) => ({ ...picture(photo, label), caption: photoPurposes[photo.purpose] })));
  if (first === undefined || last === undefined)
    return html`<h3>${label}</h3>${row([...before, ...stopped, ...after])}`;
  return html`<h3>${label}</h3>
    ${beforeAfter(picture(first, label), picture(last, label))}
    ${row([...before.slice(1), ...stopped, ...after.slice(0, -1)])}`;
}

/** The original stands in on the technician's own phone until the copies are made. */
function picture({ id, purpose, ready }: PicturedPhoto, label: string): Picture {
  return { src: `/photos/${id}/${ready ? 'view' : 'original'}`, alt: `${photoPurposes[purpose]}: ${label}` };
}
