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

/** What is kept already, the newest first; before it whatever still wants an answer. */
export function keptPhotos(kept: KeptPhotos): Html {
  const { photos } = kept;
  const open = photos.open
    ? photos.warned.filter((each) => each.retakenBy === null && each.override === null)
    : [];
  return html`<div data-live="kept" id="kept">
    ${open.length > 0 && html`<h2 data-look-again>Look again</h2>${open.map((each) => lookAgain(kept, each))}`}
    ${strip(photos)}
    ${settled(kept)}
  </div>`;
}

/** One that something is said against: take it again, or say why it stays. */
function lookAgain({ photos, csrfToken, newId }: KeptPhotos, { id, warnings, ...shown }: Warned): Html {
  const path = `${workOrderPath(photos.workOrder)}/photos`;
  const kept = photos.photos.find((photo) => photo.id === id);
  const state = kept === undefined ? { ready: false } : pictureState(kept);
  const words = whatOf(photos, shown);
  return html`<article class="look-again" id="photo-${id}">
    ${pictureRow([{ src: `/photos/${id}/thumb`, ...state, alt: words, href: `/photos/${id}/original` }])}
    <div>
      <h3>${words}</h3>
      ${warnings.map(({ sentence }) => html`<p data-warning>${sentence}</p>`)}
      <p>${quietLink({ label: 'Take it again', href: `${path}?retake=${id}` })}</p>
      <form method="post" action="${path}/${id}/keep" data-sending="Keeping…">
        ${hiddenCsrf(csrfToken)}
        ${hiddenField('override_id', newId())}
        ${textField({ name: 'reason', id: `reason-${id}`, label: 'Keep it, because …', maxLength: 500, required: true, autocomplete: 'off' })}
        ${quietButton({ label: 'Keep this photo' })}
      </form>
    </div>
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

function strip({ photos, lines, warned }: PhotosToTake): Html {
  if (photos.length === 0) return html`<h2>No photo kept yet</h2>`;
  const heading = photos.length === 1 ? '1 photo kept' : `${photos.length} photos kept`;
  const retaken = new Set(warned.filter(({ retakenBy }) => retakenBy !== null).map(({ id }) => id));
  return html`<h2>${heading}</h2>${pictureRow(photos.toReversed().map((photo) => keptPicture(photo, lines, retaken)))}`;
}

function keptPicture(
  photo: PhotosToTake['photos'][number],
  lines: PhotosToTake['lines'],
  retaken: ReadonlySet<string>,
): Picture {
  const purpose = photoPurposes[photo.purpose];
  const line = lines.find(({ id }) => id === photo.lineId);
  const shows = photo.lineId === null ? 'the vehicle' : (line?.label ?? 'a line that is not done');
  const words = photo.lineId === null || line !== undefined ? purpose : `${purpose} of ${shows}`;
  return {
    src: `/photos/${photo.id}/thumb`,
    ...pictureState(photo),
    alt: `${purpose}: ${shows}`,
    caption: html`${[words, retaken.has(photo.id) ? 'taken again' : '', coveredWords(photo)].filter((part) => part !== '').join(', ')} <a href="/office/photos/${photo.id}/covering">Cover parts<span class="heard"> of ${purpose}: ${shows}</span></a>`,
    href: `/photos/${photo.id}/original`,
  };
}

/** Why photos stay in spite of what was said against them. */
function settled({ photos, timeZone }: KeptPhotos): Html | null {
  const reasons = photos.warned.flatMap((each) =>
    each.override === null ? [] : [{ ...each, override: each.override }],
  );
  if (reasons.length === 0) return null;
  return html`<h2>Kept with a reason</h2>
    <ul>${reasons.map(
      ({ override, warnings, ...shown }) =>
        html`<li>${statusWord('settled', whatOf(photos, shown))}: “${override.reason}” <span class="hint">${override.madeBy}, ${instantShown(override.madeAt, timeZone)}. ${warnings.map(({ sentence }) => sentence).join(' ')}</span></li>`,
    )}</ul>`;
}
