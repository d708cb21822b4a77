import { type Html, html } from '../../look/html.ts';
import type { KeptAction } from './action.ts';
import { waitingWords } from './waiting-words.ts';

export interface BannerFacts {
  readonly actions: readonly KeptAction[];
  /** Whether the last try to reach the service came through; null while none was made. */
  readonly reached: boolean | null;
  readonly online: boolean;
  readonly signedOut: boolean;
}

/** What stands at the top of field pages about the phone itself; null where all is well. */
export function bannerOf({ actions, reached, online, signedOut }: BannerFacts): Html | null {
  const words = waitingWords(actions);
  const toDecide = actions.filter(({ state }) => state === 'conflict').length;
  const cut = !online || reached === false;
  if (!cut && words === '' && toDecide === 0) return null;
  return html`${cut && html`<p><b>No signal: kept on this phone.</b></p>`}
    ${words !== '' && html`<p>${words} ${!cut && signedOut ? 'kept here. Sign in again to send.' : cut ? 'waiting for signal.' : 'being sent.'} <a href="/field/phone/waiting">What waits</a></p>`}
    ${toDecide > 0 && html`<p><b>${toDecide === 1 ? '1 thing was not taken.' : `${toDecide} things were not taken.`}</b> <a href="/field/phone/waiting">Decide</a></p>`}`;
}
