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
import { openWarned } from './open-warned.ts';

interface KeptPhotos {
  readonly photos: PhotosToTake;
  readonly csrfToken: string;
  readonly timeZone: string;
  readonly newId: () => string;
  /** The one that is asked about above already. */
  readonly askedAbove: string | null;
}

type Warned = PhotosToTake['warned'][number];

/** What is kept already, each once: first whatever still wants an answer, then the others, the newest first. */
export function keptPhotos(kept: KeptPhotos): Html {
  const { photos, askedAbove } = kept;
  const open = openWarned(photos);
  const below = open.filter(({ id }) => id !== askedAbove);
  const others = photos.photos.filter((photo) => !open.some(({ id }) => id === photo.id));
  return html`<div data-live="kept" id="kept">
    <h2>${countWords(photos.photos.length)}</h2>
    ${below.length > 0 && html`<p data-look-again><b>Look again</b> at ${below.length === 1 ? 'this one' : 'these'}: take it again while the vehicle is here, or say why it is good enough.</p>${below.map((each) => lookAgain({ ...kept, each, heading: (words) => html`<h3>${words}</h3>` }))}`}
    ${others.length > 0 && pictureRow(besideRetakes(others, photos.warned).map((photo) => keptPicture(photo, photos)))}
    ${settled(kept)}
  </div>`;
}

type Kept = PhotosToTake['photos'][number];

/** The newest first, but for what was taken again: it stands beside the picture that replaces it. */
function besideRetakes(photos: readonly Kept[], warned: PhotosToTake['warned']): readonly Kept[] {
  const retakeOf = ({ id }: Kept) => warned.find((each) => each.id === id)?.retakenBy ?? null;
  const withReplaced = (photo: Kept): readonly Kept[] => [
    photo,
    ...photos.filter((each) => retakeOf(each) === photo.id).flatMap(withReplaced),
  ];
  return photos
    .filter((photo) => !photos.some(({ id }) => id === retakeOf(photo)))
    .toReversed()
    .flatMap(withReplaced);
}

function countWords(count: number): string {
  return count === 0 ? 'No photo kept yet' : count === 1 ? '1 photo kept' : `${count} photos kept`;
}

interface LookAgain extends Omit<KeptPhotos, 'timeZone' | 'askedAbove'> {
  readonly each: Warned;
  readonly heading: (words: string) => Html;
}

/** One that something is said against: take it again, or say why it stays. */
export function lookAgain({ photos, csrfToken, newId, each, heading }: LookAgain): Html {
  const { id, warnings } = each;
  const path = `${workOrderPath(photos.workOrder)}/photos`;
  const kept = photos.photos.find((photo) => photo.id === id);
  const words = whatOf(photos, each);
  const waiting = { src: `/photos/${id}/thumb`, ready: false, alt: words, href: `/photos/${id}/original` };
  const picture = kept === undefined ? waiting : keptPicture(kept, photos);
  return html`<article class="look-again" id="photo-${id}">
    ${pictureRow([picture])}
    <div class="look-again-said">
      ${heading(words)}
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

function keptPicture(photo: Kept, { lines, warned }: PhotosToTake): Picture {
  const purpose = photoPurposes[photo.purpose];
  const line = lines.find(({ id }) => id === photo.lineId);
  const shows = photo.lineId === null ? 'the vehicle' : (line?.label ?? 'a line that is not done');
  const words = photo.lineId === null || line !== undefined ? purpose : `${purpose} of ${shows}`;
  const became = becameOf(photo, warned);
  return {
    src: `/photos/${photo.id}/thumb`,
    ...pictureState(photo),
    alt: `${purpose}: ${shows}`,
    caption: html`${[words, became, coveredWords(photo)].filter((part) => part !== '').join(', ')} <a href="/office/photos/${photo.id}/covering">Cover parts<span class="heard"> of ${purpose}: ${shows}</span></a>`,
    href: `/photos/${photo.id}/original`,
  };
}

/** What became of one that something was said against, and which picture was taken in its place. */
function becameOf({ id }: Kept, warned: PhotosToTake['warned']): string {
  const answer = warned.find((each) => each.id === id);
  const words = [
    warned.some(({ retakenBy }) => retakenBy === id) ? 'the second take' : '',
    answer?.retakenBy != null ? 'replaced by the second take' : '',
    answer?.retakenBy == null && answer?.override != null ? 'kept with a reason' : '',
  ];
  return words.filter((part) => part !== '').join(', ');
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
