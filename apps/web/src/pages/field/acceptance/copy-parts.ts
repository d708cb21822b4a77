import {
  type CopyChannel,
  type CopyWish,
  copyChannels,
  isUuid,
  type Problem,
  type Result,
  refuse,
  toId,
} from '@grainwright/domain';
import type { CopyGiven } from '@grainwright/operations';
import { fieldButton, fieldLink, quietButton, quietLink } from '../../../look/buttons.ts';
import { errorSummary, hiddenCsrf, hiddenField, radioCards, textField } from '../../../look/forms.ts';
import { attributes, type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import type { FormValues } from '../../../plugins/forms.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';

/** Where the signer wants their copy, as it was chosen and typed. */
export interface TypedCopy {
  readonly id: string;
  readonly channel: string;
  readonly email: string;
  readonly phone: string;
}

export function typedCopy(values: FormValues, newId: () => string): TypedCopy {
  const id = values.text('copy_id').toLowerCase();
  return {
    id: isUuid(id) ? id : newId(),
    channel: values.text('channel'),
    email: values.text('copy_email'),
    phone: values.text('copy_phone'),
  };
}

/** What was used for another copy, or taken back, is not sent again under its id. */
export function notSpent(typed: TypedCopy, { code }: Problem, newId: () => string): TypedCopy {
  const isSpent = code === 'id_reused' || code === 'link_revoked';
  return isSpent ? { ...typed, id: newId() } : typed;
}

export function copyWish({ id, channel, email, phone }: TypedCopy): Result<CopyWish> {
  if (!isChannel(channel)) return refuse('invalid_input', 'Choose where the copy goes.', 'channel');
  const address = { mail: email, link: phone, declined: '' }[channel];
  return { ok: true, value: { id: toId(id), channel, address } };
}

const isChannel = (text: string): text is CopyChannel => Object.hasOwn(copyChannels, text);

export interface CopyForm {
  readonly action: string;
  readonly csrfToken: string;
  readonly typed: TypedCopy;
  readonly problem: Problem | null;
  readonly heading: string;
  /** Of the button; null where it stands elsewhere. */
  readonly label: string | null;
  /** Where a page has several: what tells their fields apart. */
  readonly apart?: string | undefined;
}

/** By e-mail, by a link to their own phone, or none. */
export function copyForm({ action, csrfToken, typed, problem, heading, label, apart }: CopyForm): Html {
  const idOf = (name: string) => (apart === undefined ? undefined : `${name}-${apart}`);
  const field = typed.channel === 'link' ? 'copy_phone' : 'copy_email';
  const placed = problem?.field === 'copy_address' ? { ...problem, field } : problem;
  const { errorOf, summary } = problemsOf(placed, ['channel', 'copy_email', 'copy_phone']);
  return html`<form method="post" action="${action}" id="${idOf('copy') ?? 'copy'}" data-sending="Sending…">
    <h2>${heading}</h2>
    ${errorSummary(summary)}
    ${hiddenCsrf(csrfToken)}${hiddenField('copy_id', typed.id)}
    ${radioCards({
      name: 'channel',
      id: idOf('channel'),
      label: 'The copy goes',
      value: typed.channel,
      required: true,
      error: errorOf('channel'),
      choices: [
        { value: 'mail', label: 'By e-mail' },
        { value: 'link', label: 'By a link' },
        { value: 'declined', label: 'Nowhere: no copy, thanks' },
      ],
    })}
    ${textField({ name: 'copy_email', id: idOf('copy_email'), label: 'E-mail address', hint: 'For a copy by e-mail', type: 'email', value: typed.email, error: errorOf('copy_email'), maxLength: 254, autocomplete: 'off' })}
    ${textField({ name: 'copy_phone', id: idOf('copy_phone'), label: 'Phone', hint: 'To text the link to; may stay empty', type: 'tel', value: typed.phone, error: errorOf('copy_phone'), maxLength: 40, autocomplete: 'off' })}
    ${label && html`<p>${quietButton({ label })}</p>`}
  </form>`;
}

/** While the phone is with the signer: where the copy goes comes first, then the phone goes back. */
export function copyNext(isFirst: boolean, handBack: string) {
  const back = { label: 'Hand the phone back', href: handBack };
  return {
    heading: isFirst ? 'Where shall the copy go?' : 'Another copy?',
    label: isFirst ? null : 'Give another copy',
    primaryAction: isFirst ? fieldButton({ label: 'Give the copy', form: 'copy' }) : fieldLink(back),
    beside: isFirst ? html`<p>${quietLink(back)}</p>` : null,
  };
}

/** The link of the copy that was just made, to be passed on: it is shown this once. */
export function copyLinkView(
  frame: Frame,
  given: CopyGiven,
  back: { readonly label: string; readonly href: string },
): Html {
  const { address: phone, link } = given;
  if (link === null) throw new Error('a copy by a link has a link');
  return fieldPage({
    ...frame,
    title: 'The link to your copy',
    heading: 'The link to your copy',
    lead: `It opens until ${link.lastDayWords}`,
    current: null,
    turnedRound: true,
    scripts: [frame.assets.sharing],
    body: html`
      <p><label for="address">The link. It is shown only now; if it is lost, ask for a new one.</label></p>
      <p><textarea id="address" readonly rows="3">${link.address}</textarea></p>
      <p>Whoever has it can read what was signed and see the pictures, so keep it to yourself.</p>
      <p class="buttons">
        <button ${attributes({ type: 'button', class: 'button', 'data-share': link.message, 'data-copy-label': 'Copy it with its words', hidden: true })}>Send it some other way</button>
        ${phone !== '' && quietLink(back)}
      </p>`,
    primaryAction:
      phone === ''
        ? fieldLink(back)
        : fieldLink({ label: `Text it to ${phone}`, href: messageAddress(phone, link.message) }),
  });
}

/** Opens the phone's own messages with the words in place (RFC 5724). */
function messageAddress(phone: string, message: string): string {
  return `sms:${phone.replaceAll(/[^\d+]/g, '')}?body=${encodeURIComponent(message)}`;
}
