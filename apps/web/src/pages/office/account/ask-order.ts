import type { AccountView } from '@grainwright/operations';
import { hiddenCsrf, hiddenField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';

type ContactShown = AccountView['contacts'][number];

/**
 * As which of the account’s approvers somebody is asked for answers, and for whoever may change it the button that puts
 * them first. Who can’t be mailed is passed over.
 */
export function askOrderOf(
  { contacts }: AccountView,
  contact: ContactShown,
  base: string | null,
  csrfToken: string,
): Html | null {
  const approvers = contacts
    .filter(({ role, hasEnded }) => role === 'approver' && !hasEnded)
    .toSorted((a, b) => a.askPosition - b.askPosition || (a.personId < b.personId ? -1 : 1));
  const place = approvers.indexOf(contact);
  if (place < 0) return null;
  const others = approvers.filter((each) => each !== contact);
  const order = [contact, ...others].map(({ personId }) => personId).join(',');
  return html`${ordinals[place] ?? `as no. ${place + 1}`}${contact.email === '' && ', has no e-mail address'}${
    base !== null &&
    place > 0 &&
    html`<form method="post" action="${base}/ask-order">
      ${hiddenCsrf(csrfToken)}${hiddenField('person_ids', order)}
      <button class="plain-button">Ask first<span class="heard">: ${contact.name}</span></button>
    </form>`
  }`;
}

const ordinals = ['first', 'second', 'third'];
