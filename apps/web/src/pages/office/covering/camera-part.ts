import type { PhotoOnRecord } from '@grainwright/operations';
import { instantShown } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { definitionList } from '../../../look/tables.ts';
import { takenWords } from '../../work-order/pictures.ts';
import { sizeText } from '../retention/switch-part.ts';

/** What is on record of a photo besides its picture, for the staff alone: what its camera wrote is the camera’s word. */
export function cameraPart(photo: PhotoOnRecord, timeZone: string): Html {
  const { id, takenAtLocal, capturedAt, receivedAt, exif } = photo;
  const written = Object.entries(exif ?? {});
  return html`<section><h2>What the camera wrote</h2>
    ${definitionList([
      { term: 'Camera', value: cameraWords(exif) },
      {
        term: 'Taken',
        value: takenAtLocal === null ? 'not written' : `${takenWords(takenAtLocal)}, by the camera’s clock`,
      },
      ...(capturedAt === null
        ? []
        : [{ term: 'On the phone', value: html`${instantShown(capturedAt, timeZone)}, by its clock` }]),
      { term: 'Received', value: instantShown(receivedAt, timeZone) },
      { term: 'Size', value: sizeWords(photo) },
      { term: 'Position', value: positionWords(photo) },
      { term: 'SHA-256', value: html`<span class="digest">${photo.sha256}</span>` },
    ])}
    ${
      written.length > 0 &&
      html`<details><summary>All that it wrote</summary>
        ${definitionList(written.map(([term, value]) => ({ term, value })))}</details>`
    }
    <p class="hint">For the staff alone: the account gets the picture without any of it.
      <a href="/photos/${id}/original" class="unprinted">The original file</a></p></section>`;
}

function cameraWords(exif: PhotoOnRecord['exif']): string {
  const { Make: make = '', Model: model = '' } = exif ?? {};
  // Many models begin with their maker’s name.
  const words = model.toLowerCase().startsWith(make.toLowerCase()) ? model : `${make} ${model}`;
  return words.trim() === '' ? 'not written' : words.trim();
}

const kinds = { 'image/jpeg': 'JPEG', 'image/png': 'PNG', 'image/webp': 'WebP' } as const;

function sizeWords({ width, height, bytes, mediaType }: PhotoOnRecord): string {
  return `${width} × ${height} pixels, ${sizeText(bytes)}, ${kinds[mediaType]}`;
}

/** WGS 84, to about a meter. */
function positionWords({ latitude, longitude }: PhotoOnRecord): string {
  if (latitude === null || longitude === null) return 'not written';
  const degrees = (value: number, [positive, negative]: readonly [string, string]) =>
    `${Math.abs(value).toFixed(5)}° ${value < 0 ? negative : positive}`;
  return `${degrees(latitude, ['N', 'S'])}, ${degrees(longitude, ['E', 'W'])}`;
}
