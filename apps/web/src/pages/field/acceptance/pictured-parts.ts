import { photoPurposes } from '@grainwright/domain';
import type { PicturedPart, PicturedPhoto } from '@grainwright/operations';
import { beforeAfter, type Picture, pictureRow } from '../../../look/before-after.ts';
import { type Html, html } from '../../../look/html.ts';
import { pictureState } from '../../work-order/photo-state.ts';
import { takenAgainWords } from '../../work-order/pictures.ts';

/** Where the pictures come from: the technician's own phone, or under the link that the owner came by. */
export type PictureOf = (photo: PicturedPhoto) => Pick<Picture, 'src' | 'ready' | 'waiting' | 'gone'>;

/** Before and after of each part, as it is signed for. */
export function picturedParts(parts: readonly PicturedPart[], pictureOf: PictureOf = onThePhone): Html {
  if (parts.length === 0) return html`<p>There are no pictures of this work. Look at the vehicle itself.</p>`;
  return html`${parts.map((part) => partShown(part, pictureOf))}`;
}

/** The first picture before and the last one after are the pair; the others stand below it, or alone where there is none. */
function partShown({ label, before, stopped, after }: PicturedPart, pictureOf: PictureOf): Html {
  const all = [...before, ...stopped, ...after];
  const isReplaced = ({ id }: PicturedPhoto) => all.some(({ retakeOf }) => retakeOf === id);
  const first = before.find((photo) => !isReplaced(photo));
  const last = after.findLast((photo) => !isReplaced(photo));
  const picture = (photo: PicturedPhoto): Picture => ({
    ...pictureOf(photo),
    alt: `${photoPurposes[photo.purpose]}: ${label}`,
  });
  const row = (photos: readonly PicturedPhoto[]) =>
    photos.length > 0 &&
    pictureRow(
      photos.map((photo) => ({
        ...picture(photo),
        caption: isReplaced(photo)
          ? `${photoPurposes[photo.purpose]}, ${takenAgainWords(photo.noticed ?? [])}`
          : photoPurposes[photo.purpose],
      })),
    );
  if (first === undefined || last === undefined) return html`<h3>${label}</h3>${row(all)}`;
  return html`<h3>${label}</h3>
    ${beforeAfter(picture(first), picture(last))}
    ${row(all.filter((photo) => photo !== first && photo !== last))}`;
}

/** The original stands in on the technician's own phone until the copies are made; never where parts are covered. */
function onThePhone(photo: PicturedPhoto): ReturnType<PictureOf> {
  const { id, ready, coveredOn = null, deletion = null } = photo;
  if (coveredOn !== null || deletion !== null) return { src: `/photos/${id}/view`, ...pictureState(photo) };
  return { src: `/photos/${id}/${ready ? 'view' : 'original'}` };
}
