import { ok, type Problem, parseMoney } from '@grainwright/domain';
import { fieldButton, quietLink } from '../../../look/buttons.ts';
import {
  errorSummary,
  hiddenField,
  moneyField,
  numberField,
  radioCards,
  textField,
} from '../../../look/forms.ts';
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
  madeThen,
  notKept,
  orderPath,
  type Screen,
  type Shown,
  workOf,
} from './screen.ts';
import { notHere } from './work-order.ts';
import { linesOf, numberedWork } from './work-words.ts';

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
    const made = madeUpIn(form);
    const isSum = form.text('amount') !== '' || Object.keys(made).length === 0;
    const amount = isSum ? parseMoney(form.text('amount'), { currency, field: 'amount' }) : ok(null);
    if (!amount.ok) return shown(here, work, form, amount.problem);
    const actionId = actionIdIn(here, form);
    const body = {
      ...{ id: actionId, ...partIn(work, form), ...made },
      amount: form.text('amount'),
      note: form.text('note'),
    };
    const trouble = await keep(here, { ...madeThen(here, work.id, actionId), kind: 'quote', body });
    return trouble === null ? { goTo: orderPath(work) } : shown(here, work, form, notKept(trouble));
  },
};

/** The part that a quote is for: this phone’s own form names a line of it, the service’s form the part itself. */
function partIn(work: PhoneWork, form: FormValues): { readonly part: string; readonly side: string } {
  const line = linesOf(work).find(({ lineId }) => lineId === form.text('line'));
  if (line !== undefined) return { part: line.part, side: line.side ?? '' };
  return { part: form.text('part'), side: form.text('side') };
}

const fittedNames = ['part_price', 'fitting_hours', 'hourly_rate'] as const;

/** What the service’s form says beside the sum, or instead of it: how it is made up, or the last quote that is taken. */
function madeUpIn(form: FormValues): Readonly<Record<string, string>> {
  const names = form.text('amount') === '' ? [...fittedNames, 'taken_from'] : fittedNames;
  return Object.fromEntries(
    names.map((name) => [name, form.text(name)] as const).filter(([, text]) => text !== ''),
  );
}

/** The line that stands for that part; empty where none does. */
function lineFor(work: PhoneWork, { part, side }: ReturnType<typeof partIn>): string {
  return linesOf(work).find((each) => each.part === part && (each.side ?? '') === side)?.lineId ?? '';
}

/** The form of a quote that the server refused, as it was filled in. */
export function mendQuote(here: Here, work: PhoneWork, refused: KeptAction): Shown {
  const { body } = refused.action;
  const names = ['part', 'side', 'amount', ...fittedNames, 'taken_from', 'note'];
  const fields = Object.fromEntries(names.map((name) => [name, typedIn(body, name)]));
  return shown(here, work, new FormValues(fields), problemOf(refused));
}

function shown({ frame, day }: Here, work: PhoneWork, form: FormValues, problem: Problem | null): Shown {
  const { summary, errorOf } = problemsOf(problem, ['amount', ...fittedNames, 'note']);
  const lines = linesOf(work).filter(({ repairsDamage }) => repairsDamage);
  const { currency } = day.snapshot.business;
  const asked = lineFor(work, partIn(work, form));
  const word = (name: string) => ({ name, value: form.text(name), error: errorOf(name) });
  const isMadeUp = fittedNames.some((name) => form.text(name) !== '');
  return {
    page: fieldPage({
      ...frame,
      title: `New parts, ${numberedWork(work)}`,
      heading: 'What would a new part cost, fitted?',
      lead: numberedWork(work),
      current: null,
      body: html`${errorSummary(summary)}
        <form method="post" action="${orderPath(work)}/quotes" id="quote">
          ${hiddenField('id', newId())}${form.text('taken_from') !== '' && hiddenField('taken_from', form.text('taken_from'))}
          ${radioCards({
            name: 'line',
            label: 'For which part?',
            value: asked === '' ? (lines[0]?.lineId ?? '') : asked,
            choices: lines.map(({ lineId, label }) => ({ value: lineId, label })),
          })}
          ${moneyField({ ...word('amount'), label: 'Part and labor', hint: 'In all, before tax, as quoted', currency, required: !isMadeUp && form.text('taken_from') === '' })}
          ${isMadeUp && html`${moneyField({ ...word('part_price'), label: 'The part', currency })}${numberField({ ...word('fitting_hours'), label: 'Labor to fit it', unit: 'h' })}${moneyField({ ...word('hourly_rate'), label: 'An hour costs', currency })}`}
          ${textField({ name: 'note', label: 'Who quoted it', required: false, value: form.text('note'), maxLength: 500, autocomplete: 'off' })}
        </form>
        <p>${quietLink({ label: 'Back to the work order', href: orderPath(work) })}</p>`,
      primaryAction: fieldButton({ label: 'Keep the quote', form: 'quote' }),
    }),
  };
}
