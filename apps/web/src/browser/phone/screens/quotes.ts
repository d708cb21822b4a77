import { type Problem, parseMoney } from '@grainwright/domain';
import { fieldButton, quietLink } from '../../../look/buttons.ts';
import { errorSummary, hiddenField, moneyField, radioCards, textField } from '../../../look/forms.ts';
import { html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { problemsOf } from '../../../pages/form-problems.ts';
import { FormValues } from '../../../plugins/form-values.ts';
import type { KeptAction } from '../action.ts';
import { newId } from '../new-id.ts';
import type { PhoneWork } from '../projection.ts';
import { problemOf, typedIn } from './mending.ts';
import {
  actionIdIn,
  type Here,
  keep,
  madeNow,
  notKept,
  orderPath,
  type Screen,
  type Shown,
  workOf,
} from './screen.ts';
import { notHere } from './work-order.ts';
import { linesOf, numberOf } from './work-words.ts';

/** What a new part would cost, fitted: one sum, as it was quoted. */
export const quoteScreen: Screen = {
  path: /^\/field\/work-orders\/([0-9a-f-]{36})\/quotes\/?$/,
  get: (here, [id]) => {
    const work = workOf(here, id);
    return work === null ? notHere(here) : shown(here, work, new FormValues({}), null);
  },
  post: async (here, form, [id]) => {
    const work = workOf(here, id);
    if (work === null) return notHere(here);
    const { currency } = here.day.snapshot.business;
    const amount = parseMoney(form.text('amount'), { currency, field: 'amount' });
    if (!amount.ok) return shown(here, work, form, amount.problem);
    const line = linesOf(work).find(({ lineId }) => lineId === form.text('line'));
    const actionId = actionIdIn(here, form);
    const body = {
      id: actionId,
      part: line?.part ?? '',
      side: line?.side ?? '',
      amount: form.text('amount'),
      note: form.text('note'),
    };
    const trouble = await keep(here, { ...madeNow(work.id, actionId), kind: 'quote', body });
    return trouble === null ? { goTo: orderPath(work) } : shown(here, work, form, notKept(trouble));
  },
};

/** The form of a quote that the server refused, as it was filled in. */
export function mendQuote(here: Here, work: PhoneWork, refused: KeptAction): Shown {
  const { body } = refused.action;
  const of = linesOf(work).find(
    ({ part, side }) => part === typedIn(body, 'part') && (side ?? '') === typedIn(body, 'side'),
  );
  const fields = { line: of?.lineId ?? '', amount: typedIn(body, 'amount'), note: typedIn(body, 'note') };
  return shown(here, work, new FormValues(fields), problemOf(refused));
}

function shown({ frame, day }: Here, work: PhoneWork, form: FormValues, problem: Problem | null): Shown {
  const { summary, errorOf } = problemsOf(problem, ['amount', 'note']);
  const lines = linesOf(work).filter(({ repairsDamage }) => repairsDamage);
  return {
    page: fieldPage({
      ...frame,
      title: `New parts, ${numberOf(work)}`,
      heading: 'What would a new part cost, fitted?',
      lead: numberOf(work),
      current: null,
      body: html`${errorSummary(summary)}
        <form method="post" action="${orderPath(work)}/quotes" id="quote">
          ${hiddenField('id', newId())}
          ${radioCards({
            name: 'line',
            label: 'For which part?',
            value: form.text('line') === '' ? (lines[0]?.lineId ?? '') : form.text('line'),
            choices: lines.map(({ lineId, label }) => ({ value: lineId, label })),
          })}
          ${moneyField({ name: 'amount', label: 'Part and labor', hint: 'In all, before tax, as quoted', currency: day.snapshot.business.currency, value: form.text('amount'), error: errorOf('amount'), required: true })}
          ${textField({ name: 'note', label: 'Who quoted it', required: false, value: form.text('note'), maxLength: 500, autocomplete: 'off' })}
        </form>
        <p>${quietLink({ label: 'Back to the work order', href: orderPath(work) })}</p>`,
      primaryAction: fieldButton({ label: 'Keep the quote', form: 'quote' }),
    }),
  };
}
