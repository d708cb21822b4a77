import type { AccountId } from '@grainwright/domain';
import { actionLink } from '../../../look/buttons.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import type { Frame } from '../../person.ts';

export interface JoinCodeView {
  readonly frame: Frame;
  readonly accountId: AccountId;
  readonly name: string;
  readonly email: string;
  readonly code: string;
}

/** Shown once, right after somebody was added whose e-mail address was given a sign-in by another business. */
export function joinCodeView({ frame, accountId, name, email, code }: JoinCodeView): Html {
  return officePage({
    ...frame,
    title: 'Hand over a code',
    heading: `Hand this code to ${name}`,
    lead: `${email} has a sign-in at another business already. It opens nothing here until ${name} gives this code.`,
    current: 'accounts',
    body: html`<p><strong class="code">${code}</strong></p>
      <ol>
        <li>Give it to ${name} yourself, or send it to ${email}.</li>
        <li>They sign in with the password they have, open “Password” at the top of the page and then “Join another business”.</li>
        <li>They type in the code and a new password. The old one ends with it.</li>
      </ol>
      ${notice('info', 'It is shown once', `Nobody can look it up later. If it is lost, add ${name} again: that makes another code. Then end the earlier entry.`)}
      <div class="buttons">${actionLink({ label: 'Back to the account', href: `/office/accounts/${accountId}` })}</div>`,
  });
}
