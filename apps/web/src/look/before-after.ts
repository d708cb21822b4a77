/**
 * beforeAfter(before, after): two pictures side by side, of one size whatever theirs is. Each has {src, alt,
 * caption?, href?}; `href` opens it large. Null where there is none yet.
 * pictureRow(pictures, size?): pictures of one size, as many as fit beside each other.
 */
import { type Fragment, type Html, html } from './html.ts';

export interface Picture {
  /** Null while its copy for looking at is being made. */
  readonly src: string | null;
  readonly alt: string;
  readonly caption?: Fragment;
  readonly href?: string | undefined;
}

export function beforeAfter(before: Picture | null, after: Picture | null): Html {
  return html`<div class="before-after">${figure('Before', before)}${figure('After', after)}</div>`;
}

export function pictureRow(pictures: readonly Picture[], size: 'small' | 'large' = 'small'): Html {
  return html`<div class="picture-row picture-row--${size}">${pictures.map((picture) => figure(null, picture))}</div>`;
}

function figure(word: string | null, picture: Picture | null): Html {
  const words = word === null ? null : html`<b>${word}</b>`;
  if (picture === null || picture.src === null)
    return html`<figure><div class="no-picture">${picture === null ? 'No picture yet' : 'The picture is being made ready'}</div>
      <figcaption>${words}</figcaption></figure>`;
  const image = html`<img src="${picture.src}" alt="${picture.alt}" loading="lazy" decoding="async">`;
  return html`<figure>
    ${picture.href === undefined ? image : html`<a href="${picture.href}">${image}</a>`}
    <figcaption>${words}${picture.caption && html` ${picture.caption}`}</figcaption>
  </figure>`;
}
