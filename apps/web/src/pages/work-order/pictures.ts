import { type LineId, type PhotoId, photoPurposes } from '@grainwright/domain';
import type { PhotoView, WorkOrderView } from '@grainwright/operations';
import { beforeAfter, type Picture, pictureRow } from '../../look/before-after.ts';
import { type Html, html } from '../../look/html.ts';
import { coveredWords, pictureState } from './photo-state.ts';

/**
 * Show me. Before the work, every picture large, named by its line; once there is something to compare, each line
 * before and after, side by side, with what came to light in between. `folder` is where the reader gets them.
 */
export function picturesOf(view: Pick<WorkOrderView, 'lines' | 'photos'>, folder = '/photos'): Html {
  if (view.photos.length === 0) return html`<p>There are no photos yet.</p>`;
  const ofLines = view.lines.map((line) => ({ words: line.words, photos: photosOf(view.photos, line.id) }));
  const ofVehicle = photosOf(view.photos, null);
  if (!view.photos.some((photo) => photo.purpose === 'after'))
    return allLarge([...ofLines, { words: 'the vehicle', photos: ofVehicle }], folder);
  return html`${ofLines.map(({ words, photos }) => linePictures(words, photos, folder))}
    ${ofVehicle.length > 0 && html`<h3>The vehicle</h3>${vehiclePictures(ofVehicle, folder)}`}`;
}

/** The pictures that stand on a page with `picturesOf`, as far as their copies are made. */
export function shownPhotoIds({
  lines,
  photos,
}: Pick<WorkOrderView, 'lines' | 'photos'>): readonly PhotoId[] {
  const isShown = (lineId: LineId | null) => lineId === null || lines.some(({ id }) => id === lineId);
  return photos.filter(({ ready, lineId }) => ready && isShown(lineId)).map(({ id }) => id);
}

function photosOf(photos: readonly PhotoView[], lineId: LineId | null): readonly PhotoView[] {
  return photos.filter((photo) => photo.lineId === lineId);
}

interface Named {
  readonly words: string;
  readonly photos: readonly PhotoView[];
}

function allLarge(groups: readonly Named[], folder: string): Html {
  const shown = (isWanted: (photo: PhotoView) => boolean) =>
    groups.flatMap(({ words, photos }) =>
      photos.filter(isWanted).map((photo) => named(photo, words, folder)),
    );
  const replaced = shown(isReplaced);
  return html`${pictureRow(
    shown((photo) => !isReplaced(photo)),
    'large',
  )}${replaced.length > 0 && html`<h3>Taken again</h3>${pictureRow(replaced)}`}`;
}

function vehiclePictures(photos: readonly PhotoView[], folder: string): Html {
  const standing = photos.filter((photo) => !isReplaced(photo));
  return html`${pictureRow(standing.map((photo) => named(photo, 'the vehicle', folder)))}
    ${replacedPictures(photos, 'the vehicle', folder)}`;
}

function isReplaced({ takenAgain }: PhotoView): boolean {
  return takenAgain !== null;
}

/** Those that another was taken instead of: kept in sight, apart from the result. */
function replacedPictures(photos: readonly PhotoView[], words: string, folder: string): Html | null {
  const replaced = photos.filter(isReplaced);
  if (replaced.length === 0) return null;
  return html`<h4>Taken again: ${words}</h4>${pictureRow(replaced.map((photo) => picture(photo, words, folder)))}`;
}

/** The first picture before and the last one after are the pair, once there is something to compare. */
function linePictures(words: string, photos: readonly PhotoView[], folder: string): Html | null {
  if (photos.length === 0) return null;
  const standing = photos.filter((photo) => !isReplaced(photo));
  const before = standing.find((photo) => photo.purpose === 'before') ?? null;
  const after = standing.findLast((photo) => photo.purpose === 'after') ?? null;
  const others = after === null ? standing : standing.filter((photo) => photo !== before && photo !== after);
  return html`<h3>${words}</h3>
    ${after && beforeAfter(before && ofPair(before, words, folder), ofPair(after, words, folder))}
    ${others.length > 0 && pictureRow(others.map((photo) => picture(photo, words, folder)))}
    ${replacedPictures(photos, words, folder)}`;
}

function picture(photo: PhotoView, words: string, folder: string): Picture {
  const purpose = photoPurposes[photo.purpose];
  const address = `${folder}/${photo.id}/view`;
  const caption = [purpose, replacedWords(photo), aside(photo)].filter((part) => part !== '').join(', ');
  return { src: address, ...pictureState(photo), alt: `${words}: ${purpose}`, caption, href: address };
}

/** “taken again because it was blurred”, in the caption of the one that was replaced. */
function replacedWords({ takenAgain, retakeOf }: PhotoView): string {
  if (takenAgain === null) return retakeOf === null ? '' : 'the second take';
  return takenAgainWords(takenAgain.noticed);
}

export function takenAgainWords(noticed: readonly string[]): string {
  return noticed.length === 0 ? 'taken again' : `taken again, since it was ${noticed.join(' and ')}`;
}

function named(photo: PhotoView, words: string, folder: string): Picture {
  const shown = picture(photo, words, folder);
  return { ...shown, caption: html`<b>${words}</b> ${shown.caption}` };
}

/** The pair says itself which is which. */
function ofPair(photo: PhotoView, words: string, folder: string): Picture {
  const caption = [replacedWords(photo), aside(photo)].filter((part) => part !== '').join(', ');
  return { ...picture(photo, words, folder), caption };
}

function aside(photo: PhotoView): string {
  const { takenAtLocal } = photo;
  const taken = takenAtLocal === null ? '' : `taken ${takenWords(takenAtLocal)}`;
  return [taken, coveredWords(photo)].filter((part) => part !== '').join(', ');
}

/** By the camera's own clock, which knows no zone. */
export function takenWords(takenAtLocal: string): string {
  const shown = new Intl.DateTimeFormat('en-US', {
    dateStyle: 'medium',
    timeStyle: 'short',
    timeZone: 'UTC',
  });
  return shown.format(new Date(`${takenAtLocal}Z`));
}
