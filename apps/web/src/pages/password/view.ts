import type { Problem } from '@grainwright/domain';
import { actionButton } from '../../look/buttons.ts';
import { errorSummary, hiddenCsrf, textField } from '../../look/forms.ts';
import { type Html, html } from '../../look/html.ts';
import { type PageAssets, plainPage } from '../../look/layout.ts';
import { notice } from '../../look/notices.ts';
import { problemsOf } from '../form-problems.ts';

export interface PasswordView {
  readonly changed: boolean;
  readonly problem: Problem | null;
  readonly csrfToken: string;
  readonly assets: PageAssets;
}

export function passwordView(view: PasswordView): Html {
  const problems = problemsOf(view.problem, ['old_password', 'new_password']);
  return plainPage({
    title: 'Your password',
    heading: 'Your password',
    lead: 'It is one for every business you belong to. Change it when somebody else knows it: who gave you the first one does.',
    assets: view.assets,
    body: html`
      ${view.changed && notice('done', 'Changed', 'Everywhere else where you were signed in you are signed out now.')}
      <form method="post" action="/password" novalidate>
        ${hiddenCsrf(view.csrfToken)}
        ${errorSummary(problems.summary)}
        ${textField({ name: 'old_password', label: 'Password you have', type: 'password', autocomplete: 'current-password', error: problems.errorOf('old_password'), required: true })}
        ${textField({ name: 'new_password', label: 'New password', type: 'password', autocomplete: 'new-password', hint: 'At least 12 characters; a sentence is easier to remember than a riddle.', error: problems.errorOf('new_password'), required: true })}
        ${actionButton({ label: 'Change the password' })}
      </form>
      <p><a href="/choose-business">Join another business</a></p>
      <p><a href="/">To the start page</a></p>`,
  });
}
