import type { Assets } from '../../../look/assets.ts';
import { type Html, html } from '../../../look/html.ts';
import { plainPage } from '../../../look/layout.ts';

/**
 * The page that a phone shows where there is no signal. It has nothing of anybody in it: the module fills it with what
 * the phone has kept of whoever is signed in on it.
 */
export function phoneAppView(assets: Assets['urls'], photoBytesMax: number): Html {
  return plainPage({
    title: 'On this phone',
    heading: 'Opening what this phone has kept…',
    assets,
    scripts: [assets.phoneApp],
    body: html`<div id="phone-app" data-assets="${JSON.stringify(assets)}" data-photo-bytes-max="${photoBytesMax}"></div>
      <noscript><p>Without JavaScript these pages need a signal.</p></noscript>`,
  });
}
