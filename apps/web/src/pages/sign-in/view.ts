import type { Problem } from '@grainwright/domain';
import type { NamedMembership } from '@grainwright/operations';
import { actionButton } from '../../look/buttons.ts';
import { hiddenCsrf, hiddenField, radioCards, textField } from '../../look/forms.ts';
import { type Html, html } from '../../look/html.ts';
import { type PageAssets, plainPage } from '../../look/layout.ts';
import { notice } from '../../look/notices.ts';

export interface SignInView {
  readonly email: string;
  readonly next: string;
  readonly problem: Problem | null;
  readonly csrfToken: string;
  readonly assets: PageAssets;
}

export function signInView(view: SignInView): Html {
  return plainPage({
    title: 'Sign in',
    heading: 'Sign in',
    lead: 'Work orders, evidence and statements for interior repair.',
    assets: view.assets,
    body: html`
      ${view.problem && notice('problem', 'Not signed in', view.problem.detail)}
      <form method="post" action="/sign-in">
        ${hiddenCsrf(view.csrfToken)}
        ${hiddenField('next', view.next)}
        ${textField({ name: 'email', label: 'E-mail', type: 'email', value: view.email, autocomplete: 'username', required: true })}
        ${textField({ name: 'password', label: 'Password', type: 'password', autocomplete: 'current-password', required: true })}
        ${actionButton({ label: 'Sign in' })}
      </form>`,
  });
}

export interface ChooseView {
  readonly memberships: readonly NamedMembership[];
  readonly problem: Problem | null;
  readonly csrfToken: string;
  readonly assets: PageAssets;
}

export function chooseView(view: ChooseView): Html {
  return plainPage({
    title: 'Which business?',
    heading: 'Which business?',
    lead: 'You belong to more than one. You can sign out and choose again at any time.',
    assets: view.assets,
    body: html`
      ${view.problem && notice('problem', 'Nothing chosen', view.problem.detail)}
      ${view.memberships.length === 0 && notice('info', 'No business yet', 'Nobody has given you access. Ask the repair business to add you.')}
      <form method="post" action="/choose-business">
        ${hiddenCsrf(view.csrfToken)}
        ${radioCards({
          name: 'membership_id',
          label: 'Business',
          required: true,
          choices: view.memberships.map((each) => ({
            value: each.id,
            label: each.tenantName,
            detail: each.accountId === null ? 'as staff' : 'as a customer',
          })),
        })}
        ${actionButton({ label: 'Go on' })}
      </form>`,
  });
}
