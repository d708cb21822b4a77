import { addSeconds, dayAt, type Instant } from '@grainwright/domain';
import { type CopyView, readableUntil } from '@grainwright/operations';
import { dayShown, instantShown } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';

/** Where the signer's copies went and when, and how long they can be read again. */
export function copiesShown(copies: readonly CopyView[], timeZone: string): Html | null {
  if (copies.length === 0) return null;
  const until = readableUntil(copies);
  return html`<ul>${copies.map((copy) => html`<li>${copyWords(copy, timeZone)}</li>`)}</ul>
    ${until && html`<p>${readAgain(until, timeZone)}</p>`}`;
}

/** The link opens to the end of its last day. */
export function readAgain(until: Instant, timeZone: string): Html {
  return html`By its link it can be read again through ${dayShown(dayAt(addSeconds(until, -1), timeZone))}.`;
}

function copyWords({ channel, address, givenAt, mail, sentAt }: CopyView, timeZone: string): Html {
  const when = instantShown(givenAt, timeZone);
  switch (channel) {
    case 'declined':
      return html`No copy wanted, ${when}`;
    case 'link':
      return address === ''
        ? html`By a link, shown ${when}`
        : html`By a link, made to be passed on to ${address}, ${when}`;
    case 'mail':
      return html`By e-mail to ${address}, ${sentAt === null ? html`${when}: ${mailWords[mail ?? 'queued']}` : html`sent ${instantShown(sentAt, timeZone)}`}`;
  }
}

const mailWords = {
  queued: 'waits to be sent',
  sent: 'sent',
  kept: 'kept in the mailbox, which sends nothing here',
  failed: 'could not be sent',
} as const;
