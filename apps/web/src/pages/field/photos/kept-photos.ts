import { photoPurposes } from '@grainwright/domain';
import type { PhotosToTake } from '@grainwright/operations';
import { type Picture, pictureRow } from '../../../look/before-after.ts';
import { quietButton, quietLink } from '../../../look/buttons.ts';
import { instantShown } from '../../../look/figures.ts';
import { hiddenCsrf, hiddenField, textField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { statusWord } from '../../../look/notices.ts';
import { coveredWords, pictureState } from '../../work-order/photo-state.ts';
import { workOrderPath } from '../work-words.ts';

interface KeptPhotos {
  readonly photos: PhotosToTake;
  readonly csrfToken: string;
  readonly timeZone: string;
  readonly newId: () => string;
}

type Warned = PhotosToTake['warned'][number];

/** What is kept already, each once: first whatever still wants an answer, then the others, the newest first. */
export function keptPhotos(kept: KeptPhotos): Html {
  const { photos } = kept;
  const open = photos.open
    ? photos.warned.filter((each) => each.retakenBy === null && each.override === null)
    : [];
  const others = photos.photos.filter((photo) => !open.some(({ id }) => id === photo.id));
  return html`<div data-live="kept" id="kept">
    <h2>${countWords(photos.photos.length)}</h2>
    ${open.length > 0 && html`<p data-look-again><b>Look again</b> at ${open.length === 1 ? 'this one' : 'these'}: take it again while the vehicle is here, or say why it is good enough.</p>${open.map((each) => lookAgain(kept, each))}`}
    ${others.length > 0 && pictureRow(others.toReversed().map((photo) => keptPicture(photo, photos)))}
    ${settled(kept)}
  </div>`;
}

function countWords(count: number): string {
  return count === 0 ? 'No photo kept yet' : count === 1 ? '1 photo kept' : `${count} photos kept`;
}

/** One that something is said against: take it again, or say why it stays. */
function lookAgain({ photos, csrfToken, newId }: KeptPhotos, { id, warnings, ...shown }: Warned): Html {
  const path = `${workOrderPath(photos.workOrder)}/photos`;
  const kept = photos.photos.find((photo) => photo.id === id);
  const words = whatOf(photos, shown);
  const waiting = { src: `/photos/${id}/thumb`, ready: false, alt: words, href: `/photos/${id}/original` };
  const picture = kept === undefined ? waiting : keptPicture(kept, photos);
  return html`<article class="look-again" id="photo-${id}">
    ${pictureRow([picture])}
    <div class="look-again-said">
      <h3>${words}</h3>
      ${warnings.map(({ sentence }) => html`<p data-warning>${sentence}</p>`)}
      <p>${quietLink({ label: 'Take it again', href: `${path}?retake=${id}` })}</p>
    </div>
    <form method="post" action="${path}/${id}/keep" data-sending="Keeping…">
        ${hiddenCsrf(csrfToken)}
        ${hiddenField('override_id', newId())}
        ${textField({ name: 'reason', id: `reason-${id}`, label: 'Keep it, because …', maxLength: 500, required: true, autocomplete: 'off' })}
        ${quietButton({ label: 'Keep this photo' })}
    </form>
  </article>`;
}

function whatOf({ lines }: PhotosToTake, { purpose, lineId }: Pick<Warned, 'purpose' | 'lineId'>): string {
  const of =
    lineId === null
      ? 'the vehicle'
      : (lines.find(({ id }) => id === lineId)?.label ?? 'a line that is not done');
  return `${capital(photoPurposes[purpose])}: ${of}`;
}

function capital(words: string): string {
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
}

function keptPicture(photo: PhotosToTake['photos'][number], { lines, warned }: PhotosToTake): Picture {
  const purpose = photoPurposes[photo.purpose];
  const line = lines.find(({ id }) => id === photo.lineId);
  const shows = photo.lineId === null ? 'the vehicle' : (line?.label ?? 'a line that is not done');
  const words = photo.lineId === null || line !== undefined ? purpose : `${purpose} of ${shows}`;
  const answer = warned.find(({ id }) => id === photo.id);
  const became =
    answer?.retakenBy != null ? 'taken again' : answer?.override != null ? 'kept with a reason' : '';
  return {
    src: `/photos/${photo.id}/thumb`,
    ...pictureState(photo),
    alt: `${purpose}: ${shows}`,
    caption: html`${[words, became, coveredWords(photo)].filter((part) => part !== '').join(', ')} <a href="/office/photos/${photo.id}/covering">Cover parts<span class="heard"> of ${purpose}: ${shows}</span></a>`,
    href: `/photos/${photo.id}/original`,
  };
}

/** Why photos stay in spite of what was said against them. */
function settled({ photos, timeZone }: KeptPhotos): Html | null {
  const reasons = photos.warned.flatMap((each) =>
    each.override === null ? [] : [{ ...each, override: each.override }],
  );
  if (reasons.length === 0) return null;
  return html`<h3>Kept with a reason</h3>
    <ul>${reasons.map(
      ({ override, warnings, ...shown }) =>
        html`<li>${statusWord('settled', whatOf(photos, shown))}: “${override.reason}” <span class="hint">${override.madeBy}, ${instantShown(override.madeAt, timeZone)}. ${warnings.map(({ sentence }) => sentence).join(' ')}</span></li>`,
    )}</ul>`;
}
