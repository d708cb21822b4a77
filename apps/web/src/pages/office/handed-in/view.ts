import type { Problem } from '@grainwright/domain';
import type { HandedInView } from '@grainwright/operations';
import { actionButton, quietButton, quietLink } from '../../../look/buttons.ts';
import { dayShown, instantShown } from '../../../look/figures.ts';
import { errorSummary, hiddenCsrf, textArea } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { definitionList } from '../../../look/tables.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import { certificateWords } from '../account-words.ts';

export function handedInView(page: {
  readonly frame: Frame;
  readonly view: HandedInView;
  readonly reason: string;
  readonly problem: Problem | null;
}): Html {
  const { frame, view } = page;
  return officePage({
    ...frame,
    title: `Certificate ${view.number}`,
    heading: `Certificate ${view.number}`,
    lead: `Handed in by ${view.handedInBy} of ${view.accountName}, to be checked by you.`,
    beside: quietLink({ label: 'Back to the account', href: `/office/accounts/${view.accountId}` }),
    current: 'accounts',
    body: html`${definitionList([
      { term: 'Kind', value: certificateWords[view.kind] },
      { term: 'Number', value: view.number },
      { term: 'From', value: dayShown(view.validFrom) },
      { term: 'Through', value: view.validTo === null ? 'no end' : dayShown(view.validTo) },
      { term: 'Handed in', value: instantShown(view.handedInAt, frame.me.business.timeZone) },
    ])}
    ${view.check === null ? checkForm(page) : checked(view, frame.me.business.timeZone)}`,
  });
}

function checked({ standing, check }: HandedInView, timeZone: string): Html | null {
  if (check === null) return null;
  const heading = standing === 'confirmed' ? 'Confirmed and filed' : 'Not taken';
  return notice(
    'info',
    heading,
    html`${check.by}, ${instantShown(check.at, timeZone)}.${check.reason !== '' && html` ${check.reason}`}`,
  );
}

function checkForm({
  frame,
  view,
  reason,
  problem,
}: {
  readonly frame: Frame;
  readonly view: HandedInView;
  readonly reason: string;
  readonly problem: Problem | null;
}): Html {
  const { summary, errorOf } = problemsOf(problem, ['reason']);
  return html`<form method="post" action="/office/handed-in/${view.id}" novalidate>
    ${hiddenCsrf(frame.csrfToken)}
    ${errorSummary(summary)}
    <p>Compare it with the paper, or with the register of the state. Once it is filed, work of its days is exempt
    wherever the account’s tax area taxes it; invoices that were issued stay as they are.</p>
    <div class="buttons">${actionButton({ label: 'It is right: file it', name: 'answer', value: 'confirmed' })}</div>
    ${textArea({
      name: 'reason',
      label: 'Or why not, and what to do',
      hint: `${view.accountName} reads it`,
      value: reason,
      error: errorOf('reason'),
      required: false,
      maxLength: 500,
    })}
    <div class="buttons">${quietButton({ label: 'Do not take it', name: 'answer', value: 'not_taken' })}</div>
  </form>`;
}
