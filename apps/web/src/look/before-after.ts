/**
 * beforeAfter(before, after): two pictures side by side, of one size whatever theirs is. Each has {src, alt, ready?,
 * caption?, href?}; `href` opens it large. Null where there is none yet. While a picture is not ready,
 * browser/pictures.ts asks for it again. Where both are there, browser/divider.ts lays them over each other.
 * pictureRow(pictures, size?): pictures of one size, as many as fit beside each other.
 */
import { attributes, type Fragment, type Html, html } from './html.ts';

export interface Picture {
  readonly src: string;
  readonly alt: string;
  /** False while its copy for looking at is being made. */
  readonly ready?: boolean;
  /** What stands there meanwhile, where it is something else than making it ready. */
  readonly waiting?: string;
  /** Why there is no picture any more: then that stands in its place. */
  readonly gone?: string;
  readonly caption?: Fragment;
  readonly href?: string | undefined;
}

export function beforeAfter(before: Picture | null, after: Picture | null): Html {
  const label = before && after && `Divider between “${before.alt}” and “${after.alt}”`;
  return html`<div ${attributes({ class: 'before-after', 'data-divider': label ?? undefined })}>${figure('Before', before)}${figure('After', after)}</div>`;
}

export function pictureRow(pictures: readonly Picture[], size: 'small' | 'large' = 'small'): Html {
  return html`<div class="picture-row picture-row--${size}">${pictures.map((picture) => figure(null, picture))}</div>`;
}

function figure(word: string | null, picture: Picture | null): Html {
  const words = word === null ? null : html`<b>${word}</b>`;
  if (picture === null)
    return html`<figure><div class="no-picture">No picture yet</div>
      <figcaption>${words}</figcaption></figure>`;
  if (picture.gone !== undefined)
    return html`<figure><div class="no-picture no-picture--gone">${picture.gone}</div>
      <figcaption>${words}${picture.caption && html` ${picture.caption}`}</figcaption></figure>`;
  const image =
    picture.ready === false
      ? html`<span class="no-picture" data-picture="${picture.src}" data-alt="${picture.alt}">${picture.waiting ?? 'The picture is being made ready'}</span>`
      : html`<img src="${picture.src}" alt="${picture.alt}" loading="lazy" decoding="async">`;
  return html`<figure>
    ${picture.href === undefined ? image : html`<a href="${picture.href}">${image}</a>`}
    <figcaption>${words}${picture.caption && html` ${picture.caption}`}${picture.ready === false && html` <noscript><a href="">Show the picture</a></noscript>`}</figcaption>
  </figure>`;
}
