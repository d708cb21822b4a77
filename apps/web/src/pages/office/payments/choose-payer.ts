import type { AccountId } from '@grainwright/domain';
import { actionButton, quietLink } from '../../../look/buttons.ts';
import { textField } from '../../../look/forms.ts';
import { attributes, type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import type { Frame } from '../../person.ts';

export interface AccountToName {
  readonly id: AccountId;
  readonly name: string;
  readonly shortName: string;
}

/** How an account stands in the list of suggestions. */
export function payerWords({ name, shortName }: AccountToName): string {
  return `${name} (${shortName})`;
}

/**
 * The accounts that somebody may mean by what they typed: the one whose short name or whole name it is, else those
 * with the words in their names.
 */
export function payersMeant(text: string, accounts: readonly AccountToName[]): readonly AccountToName[] {
  const typed = text.trim().toLowerCase();
  if (typed === '') return [];
  const exact = accounts.filter((account) =>
    [account.shortName, account.name, payerWords(account)].some((words) => words.toLowerCase() === typed),
  );
  if (exact.length > 0) return exact;
  return accounts.filter((account) => account.name.toLowerCase().includes(typed));
}

export interface ChoosePayer {
  readonly frame: Frame;
  readonly accounts: readonly AccountToName[];
  readonly typed: string;
  readonly meant: readonly AccountToName[];
  /** Where the choice leads to: `/office/payments/new`. */
  readonly to: string;
  readonly heading: string;
}

/** Who paid comes first, because what is open depends on it. A short name and the Enter key are enough. */
export function choosePayerView({ frame, accounts, typed, meant, to, heading }: ChoosePayer): Html {
  const error =
    typed === '' || meant.length > 0
      ? undefined
      : 'No account is called that. Write its short name, or a part of its name.';
  return officePage({
    ...frame,
    title: heading,
    heading,
    lead: 'Who paid?',
    current: 'new-payment',
    beside: quietLink({ label: 'Nobody knows who paid', href: '/office/parked-receipts' }),
    body: html`<form method="get" action="${to}">
        ${textField({ name: 'who', label: 'Account', hint: 'Its short name, or a part of its name.', value: typed, error, required: true, autocomplete: 'off', list: 'accounts', autofocus: true })}
        <datalist id="accounts">${accounts.map((account) => html`<option ${attributes({ value: payerWords(account) })}></option>`)}</datalist>
        ${actionButton({ label: 'Go on' })}
      </form>
      ${
        meant.length > 1 &&
        html`<h2>Which one?</h2>
        <ul>${meant.slice(0, 50).map((account) => html`<li><a href="${`${to}?account=${account.id}`}">${payerWords(account)}</a></li>`)}</ul>`
      }`,
  });
}
