import type { Problem } from '@grainwright/domain';
import type { NamedMembership } from '@grainwright/operations';
import { actionButton, quietButton } from '../../look/buttons.ts';
import { errorSummary, hiddenCsrf, hiddenField, radioCards, textField } from '../../look/forms.ts';
import { type Html, html } from '../../look/html.ts';
import { type PageAssets, plainPage } from '../../look/layout.ts';
import { notice } from '../../look/notices.ts';
import type { KeptForm } from '../../plugins/kept-form.ts';
import { problemsOf } from '../form-problems.ts';
import { keptSentence } from './send-again-view.ts';

export interface SignInView {
  readonly email: string;
  readonly next: string;
  /** What was being sent when the session had ended. */
  readonly kept: KeptForm | null;
  readonly problem: Problem | null;
  readonly csrfToken: string;
  readonly assets: PageAssets & { readonly signedOut: string };
}

export function signInView(view: SignInView): Html {
  return plainPage({
    title: 'Sign in',
    heading: 'Sign in',
    lead: 'Work orders, evidence and statements for interior repair.',
    assets: view.assets,
    scripts: [view.assets.signedOut],
    body: html`
      ${view.kept && notice('info', 'You were signed out, so this was not sent', `${keptSentence(view.kept)} Sign in again; then you see it once more and send it.`)}
      ${view.problem && notice('problem', 'Not signed in', view.problem.detail)}
      <form method="post" action="/sign-in">
        ${hiddenCsrf(view.csrfToken)}
        ${hiddenField('next', view.next)}
        ${view.kept && hiddenField('kept', JSON.stringify(view.kept))}
        ${textField({ name: 'email', label: 'E-mail', type: 'email', value: view.email, autocomplete: 'username', required: true })}
        ${textField({ name: 'password', label: 'Password', type: 'password', autocomplete: 'current-password', required: true })}
        ${actionButton({ label: 'Sign in' })}
      </form>`,
  });
}

/** Somebody else signed in than who had typed what was kept. */
export function droppedView(assets: PageAssets): Html {
  return plainPage({
    title: 'Signed in',
    heading: 'Signed in',
    assets,
    body: html`${notice('info', 'What was typed before was not sent', 'Somebody else had typed it, so it was dropped and nothing of it was saved.')}
      <p><a href="/">To the start page</a></p>`,
  });
}

export interface ChooseView {
  readonly memberships: readonly NamedMembership[];
  /** What was wrong with the business chosen. */
  readonly choice: Problem | null;
  /** What was wrong with the code or the password. */
  readonly join: Problem | null;
  /** As typed. */
  readonly code: string;
  readonly csrfToken: string;
  readonly assets: PageAssets;
}

export function chooseView(view: ChooseView): Html {
  return plainPage({
    title: 'Which business?',
    heading: 'Which business?',
    assets: view.assets,
    body: html`${view.memberships.length === 0 ? notice('info', 'No business yet', 'Nobody has given you access. Ask the repair business to add you.') : choice(view)}
      ${join(view)}
      <p><a href="/password">Change your password</a></p>
      <p><a href="/">To the start page</a></p>`,
  });
}

function choice({ memberships, choice: problem, csrfToken }: ChooseView): Html {
  return html`${problem && notice('problem', 'Nothing chosen', problem.detail)}
    <form method="post" action="/choose-business">
      ${hiddenCsrf(csrfToken)}
      ${radioCards({
        name: 'membership_id',
        label: 'Business',
        required: true,
        choices: memberships.map((each) => ({
          value: each.id,
          label: each.tenantName,
          detail: each.accountId === null ? 'as staff' : 'as a customer',
        })),
      })}
      ${actionButton({ label: 'Go on' })}
    </form>`;
}

function join({ join: problem, code, csrfToken }: ChooseView): Html {
  const problems = problemsOf(problem, ['code', 'new_password']);
  return html`<h2>Join another business</h2>
    <p>With the code that it handed you. Take a new password with it: who gave you the one you have may know it. You are signed out everywhere else.</p>
    <form method="post" action="/join-business" novalidate>
      ${hiddenCsrf(csrfToken)}
      ${errorSummary(problems.summary)}
      ${textField({ name: 'code', label: 'Code', value: code, code: true, autocomplete: 'off', maxLength: 60, error: problems.errorOf('code'), required: true })}
      ${textField({ name: 'new_password', label: 'New password', type: 'password', autocomplete: 'new-password', hint: 'At least 12 characters; a sentence is easier to remember than a riddle.', error: problems.errorOf('new_password'), required: true })}
      ${quietButton({ label: 'Join' })}
    </form>`;
}
