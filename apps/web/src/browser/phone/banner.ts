import { type Html, html } from '../../look/html.ts';
import type { KeptAction } from './action.ts';
import { waitingWords } from './waiting-words.ts';

export interface BannerFacts {
  readonly actions: readonly KeptAction[];
  /** Those of them that wait for somebody’s decision, and not for signal. */
  readonly held: readonly KeptAction[];
  /** Whether the last try to reach the service came through; null where none was made since the signal came back. */
  readonly reached: boolean | null;
  readonly online: boolean;
  readonly signedOut: boolean;
  /** Whether somebody, this window or another one or the worker, is at sending. */
  readonly sending: boolean;
}

/** What stands at the top of field pages about the phone itself; null where all is well. */
export function bannerOf(facts: BannerFacts): Html | null {
  const { actions, held } = facts;
  const going = waitingWords(actions.filter((kept) => !held.includes(kept)));
  const toDecide = decisionWords(facts);
  const cut = isCut(facts);
  if (!cut && going === '' && toDecide === null) return null;
  const kept =
    going === '' ? 'No signal. What you do is kept on this phone.' : 'No signal: kept on this phone.';
  return html`${cut && html`<p><b>${kept}</b></p>`}
    ${going !== '' && html`<p>${going} ${becomes(facts)} <a href="/field/phone/waiting">What waits</a></p>`}
    ${toDecide && html`<p>${toDecide} <a href="/field/phone/waiting">Decide</a></p>`}`;
}

function isCut({ online, reached }: BannerFacts): boolean {
  return !online || reached === false;
}

/** What becomes of that which goes out by itself. */
function becomes(facts: BannerFacts): string {
  if (isCut(facts)) return 'waiting for signal.';
  if (facts.signedOut) return 'kept here. Sign in again to send.';
  return facts.sending ? 'being sent.' : 'waiting to be sent.';
}

function decisionWords({ actions, held }: BannerFacts): Html | null {
  const refused = actions.filter(({ state }) => state === 'conflict').length;
  const words = waitingWords(held);
  if (refused === 0 && words === '') return null;
  const taken = refused === 1 ? '1 thing was not taken.' : `${refused} things were not taken.`;
  return html`${refused > 0 && html`<b>${taken}</b> `}${words !== '' && `${words} kept here until you decide.`}`;
}
