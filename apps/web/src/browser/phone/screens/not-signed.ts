import { checkWitness, missingSignatureReasons, type Problem } from '@grainwright/domain';
import { fieldButton, quietLink } from '../../../look/buttons.ts';
import { errorSummary, hiddenField, radioCards, textArea, textField } from '../../../look/forms.ts';
import { html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { choicesOf } from '../../../pages/field/choices.ts';
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
import { numberedWork } from './work-words.ts';

/** Why nobody signed, and who else saw it. */
export const notSignedScreen: Screen = {
  path: /^\/field\/work-orders\/([0-9a-f-]{36})\/not-signed\/?$/,
  get: (here, [id]) => {
    const work = workOf(here, id);
    return work === null ? notHere(here) : shown(here, work, new FormValues({}), null);
  },
  post: async (here, form, [id]) => {
    const work = workOf(here, id);
    if (work === null) return notHere(here);
    const problem = problemIn(form, here.frame.me.name);
    if (problem !== null) return shown(here, work, form, problem);
    const actionId = actionIdIn(here, form);
    const body = {
      id: actionId,
      why: form.text('why'),
      reason: form.text('reason'),
      witness: form.text('witness'),
    };
    const trouble = await keep(here, {
      ...madeThen(here, work.id, actionId),
      kind: 'missing_signature',
      body,
    });
    return trouble === null ? { goTo: orderPath(work) } : shown(here, work, form, notKept(trouble));
  },
};

/** The form of such a record that the server refused, as it was filled in. */
export function mendNotSigned(here: Here, work: PhoneWork, refused: KeptAction): Shown {
  const { body } = refused.action;
  const fields = {
    why: typedIn(body, 'why'),
    reason: typedIn(body, 'reason'),
    witness: typedIn(body, 'witness'),
  };
  return shown(here, work, new FormValues(fields), problemOf(refused));
}

function problemIn(form: FormValues, technician: string): Problem | null {
  const why = form.text('why');
  if (why !== 'refused' && why !== 'absent')
    return { code: 'invalid_input', detail: 'Choose what happened.', field: 'why' };
  if (form.text('reason') === '')
    return {
      code: 'invalid_input',
      detail: 'Write why nobody signed, in their words if they gave any.',
      field: 'reason',
    };
  const witness = checkWitness(form.text('witness'), { why, recordedBy: technician });
  return witness.ok ? null : witness.problem;
}

function shown({ frame }: Here, work: PhoneWork, form: FormValues, problem: Problem | null): Shown {
  if (work.state !== 'done') return { goTo: orderPath(work) };
  const { summary, errorOf } = problemsOf(problem, ['why', 'reason', 'witness']);
  return {
    page: fieldPage({
      ...frame,
      title: `${numberedWork(work)}, not signed`,
      heading: 'Nobody signs?',
      lead: numberedWork(work),
      current: null,
      body: html`${errorSummary(summary)}
        <p>It stays on record and the work stays unaccepted. Somebody may still sign later, or a manager lets it go.</p>
        <form method="post" action="${orderPath(work)}/not-signed" id="not-signed">
          ${hiddenField('id', newId())}
          ${radioCards({ name: 'why', label: 'What happened', value: form.text('why'), required: true, error: errorOf('why'), choices: choicesOf(missingSignatureReasons) })}
          ${textArea({ name: 'reason', label: 'Why', hint: 'In their words, if they gave any', value: form.text('reason'), error: errorOf('reason'), required: true, rows: 2, maxLength: 500 })}
          ${textField({ name: 'witness', label: 'Who else saw it', hint: 'Full name of a second person. May be left empty where nobody was there.', value: form.text('witness'), error: errorOf('witness'), required: false, maxLength: 200, autocomplete: 'off' })}
        </form>
        <p>${quietLink({ label: 'Back to the work order', href: orderPath(work) })}</p>`,
      primaryAction: fieldButton({ label: 'Keep this on record', form: 'not-signed' }),
    }),
  };
}
