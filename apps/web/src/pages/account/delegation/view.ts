import type { Problem } from '@grainwright/domain';
import type { OwnAccountView } from '@grainwright/operations';
import { actionButton, quietLink } from '../../../look/buttons.ts';
import { fieldGroup } from '../../../look/field-group.ts';
import { moneyText } from '../../../look/figures.ts';
import {
  dateField,
  errorSummary,
  hiddenCsrf,
  hiddenField,
  moneyField,
  selectField,
} from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { accountPage } from '../../../look/layout.ts';
import { problemsOf } from '../../form-problems.ts';
import { roleWords } from '../../office/account-words.ts';
import type { Frame } from '../../person.ts';

/** As typed; days as YYYY-MM-DD. */
export interface DelegationTyped {
  readonly id: string;
  readonly toPersonId: string;
  readonly validFrom: string;
  readonly validTo: string;
  readonly limit: string;
}

export interface DelegationPage {
  readonly frame: Frame;
  readonly view: OwnAccountView;
  /** Of whoever is away. */
  readonly personId: string;
  readonly typed: DelegationTyped;
  readonly problem: Problem | null;
}

/** An approver who will be away names somebody to answer for them. */
export function delegationView({ frame, view, personId, typed, problem }: DelegationPage): Html {
  const { me } = frame;
  const fields = ['to_person_id', 'valid_from', 'valid_to', 'limit'];
  const { summary, errorOf } = problemsOf(problem, fields);
  const limit =
    me.limitMinor === null
      ? 'You approve without a limit; empty lets them, too.'
      : `You approve up to ${moneyText(me.limitMinor, view.currency)}. They never may more; empty means as much.`;
  return accountPage({
    ...frame,
    title: 'While you are away',
    heading: 'While you are away',
    lead: `Somebody of ${me.accountName ?? 'your account'} answers for you. You can still answer yourself.`,
    beside: quietLink({ label: 'Back to the account', href: '/account/details' }),
    current: 'account',
    body: html`<form method="post" action="/account/delegations/new" novalidate>
      ${hiddenCsrf(frame.csrfToken)}
      ${hiddenField('id', typed.id)}
      ${errorSummary(summary)}
      ${fieldGroup('Who and when', [
        selectField({
          name: 'to_person_id',
          label: 'Who answers for you',
          value: typed.toPersonId,
          error: errorOf('to_person_id'),
          empty: 'Choose somebody',
          choices: view.people
            .filter((each) => !each.hasEnded && each.personId !== personId)
            .map((each) => ({ value: each.personId, label: `${each.name}, ${roleWords[each.role]}` })),
        }),
        dateField({
          name: 'valid_from',
          label: 'First day',
          value: typed.validFrom,
          error: errorOf('valid_from'),
          required: true,
        }),
        dateField({
          name: 'valid_to',
          label: 'Last day',
          value: typed.validTo,
          error: errorOf('valid_to'),
          required: true,
        }),
        moneyField({
          name: 'limit',
          label: 'Up to, for a vehicle',
          currency: view.currency,
          hint: limit,
          value: typed.limit,
          error: errorOf('limit'),
          required: false,
        }),
      ])}
      <p>They are asked by e-mail along with you, and every answer shows that they gave it for you. They can’t hand it on.</p>
      <div class="buttons">${actionButton({ label: 'Let them answer' })}</div>
    </form>`,
  });
}
