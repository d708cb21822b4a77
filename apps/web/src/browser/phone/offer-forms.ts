import { html } from '../../look/html.ts';
import { notice } from '../../look/notices.ts';
import type { KeptForm } from './handed-forms.ts';
import { listForms, throwFormAway } from './owner.ts';
import { keptLately, timeZoneIn } from './refresh-snapshot.ts';
import type { PhoneStore } from './store.ts';

/**
 * Below the place where a page says what waits: forms that did not come through and were not taken up. Each can be looked
 * at and sent, or thrown away; by itself neither happens.
 */
export async function offerForms(place: HTMLElement, store: PhoneStore): Promise<void> {
  // Who the phone was turned round for is not told.
  if (place.hidden) return;
  const timeZone = timeZoneIn((await keptLately(store))?.snapshot);
  for (const form of await listForms(store.owner)) place.after(offer(form, timeZone));
}

function offer({ key, path, at }: KeptForm, timeZone: string | undefined): HTMLElement {
  const section = document.createElement('section');
  const time = new Date(at).toLocaleString('en-US', { dateStyle: 'medium', timeStyle: 'short', timeZone });
  const again = `${path}?${new URLSearchParams({ form: key })}`;
  section.innerHTML = notice(
    'info',
    `${formWords(path)} of ${time} did not come through`,
    html`<div class="buttons"><a class="button" href="${again}">Look at it and send it</a>
      <button type="button" class="button">Throw it away</button></div>`,
  ).toString();
  section.querySelector('button')?.addEventListener('click', async () => {
    if (!window.confirm('Throw away what was filled in? It was not sent.')) return;
    await throwFormAway(key);
    section.remove();
  });
  return section;
}

const words: readonly (readonly [RegExp, string])[] = [
  [/\/write-up$/, 'A write-up'],
  [/\/lines\//, 'A line'],
  [/\/photos$/, 'A photo'],
  [/\/walk-around$/, 'A recording'],
  [/\/estimate$/, 'An estimate'],
  [/\/quotes$/, 'A quote for a new part'],
  [/\/start$/, 'A start of work'],
  [/\/finish$/, 'An end of work'],
  [/\/acceptance$/, 'An answer to finished work'],
  [/\/not-signed$/, 'A note that nobody signed'],
];

function formWords(path: string): string {
  return words.find(([fits]) => fits.test(path))?.[1] ?? 'A form';
}
