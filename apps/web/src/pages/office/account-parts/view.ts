import type { Problem } from '@grainwright/domain';
import type { AccountView, PriceBookView } from '@grainwright/operations';
import { actionButton, quietLink } from '../../../look/buttons.ts';
import { errorSummary, hiddenCsrf, hiddenField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import type { Part, Values } from './part.ts';

export interface PartView {
  readonly frame: Frame;
  readonly part: Part;
  readonly view: AccountView;
  readonly book: PriceBookView;
  readonly ids: Values;
  readonly values: Values;
  readonly problem: Problem | null;
}

export function partView({ frame, part, view, book, ids, values, problem }: PartView): Html {
  const problems = problemsOf(problem, part.fields);
  const base = `/office/accounts/${view.account.id}`;
  return officePage({
    ...frame,
    title: part.heading,
    heading: part.heading,
    lead: part.lead(view),
    beside: quietLink({ label: 'Back to the account', href: base }),
    current: 'accounts',
    body: html`<form method="post" action="${`${base}/${part.path}/new`}" novalidate>
      ${hiddenCsrf(frame.csrfToken)}
      ${Object.entries(ids).map(([name, value]) => hiddenField(name, value))}
      ${errorSummary(problems.summary)}
      ${part.form({ values, problems, view, book })}
      <div class="buttons">${actionButton({ label: part.button })}</div>
    </form>`,
  });
}
