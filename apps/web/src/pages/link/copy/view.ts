import type { CopyPage } from '@grainwright/operations';
import type { Assets } from '../../../look/assets.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { signedSheet } from '../../field/acceptance/signed-sheet.ts';
import { readAgain } from '../../work-order/copies-shown.ts';
import { frameFor, ownersPictures } from '../acceptance/view.ts';

export interface CopyPageShown {
  readonly page: CopyPage;
  /** Of the link: `/link/…` */
  readonly path: string;
  readonly assets: Assets['urls'];
}

/** What a signer reads again: each answer as it was signed. Nothing can be done here. */
export function copyPage({ page, path, assets }: CopyPageShown): Html {
  const { business, signed, readableUntil } = page;
  const [first] = signed;
  return fieldPage({
    title: 'Your copy',
    heading: 'Your copy of what was signed',
    lead: signed.length === 1 ? first?.shown.vehicle.description : `${signed.length} vehicles`,
    ...frameFor(business.name, assets),
    scripts: [assets.pictures, assets.divider],
    body: html`<p>${readAgain(readableUntil, business.timeZone)}</p>
      ${signed.map((each) => html`<section>${signedSheet({ business, signed: each, ...ownersPictures(path) })}</section>`)}`,
  });
}
