import { type Problem, reworkReasons } from '@grainwright/domain';
import type { WorkOrderView } from '@grainwright/operations';
import { fieldButton, fieldLink, quietLink } from '../../../look/buttons.ts';
import {
  checkboxField,
  dateField,
  errorSummary,
  hiddenCsrf,
  hiddenField,
  radioCards,
} from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import { picturesOf } from '../../work-order/pictures.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { choicesOf } from '../choices.ts';

export interface TypedRework {
  readonly id: string;
  readonly visitId: string;
  readonly reason: string;
  readonly day: string;
  readonly afterHours: boolean;
  readonly rush: boolean;
}

export interface ReworkPage {
  readonly frame: Frame;
  /** The work that came back. */
  readonly view: WorkOrderView;
  readonly open: boolean;
  readonly typed: TypedRework;
  readonly problem: Problem | null;
}

/** What was done, and what of it came back. */
export function reworkView({ frame, view, open, typed, problem }: ReworkPage): Html {
  const path = `/field/work-orders/${view.id}`;
  const { summary, errorOf } = problemsOf(problem, ['reason', 'day']);
  return fieldPage({
    ...frame,
    title: `Rework of ${workOrderNumber(view.number)}`,
    heading: 'What came back?',
    lead: `${workOrderNumber(view.number)} · ${view.vehicle.description}`,
    current: null,
    scripts: [frame.assets.sending],
    body: html`${errorSummary(summary)}
      ${!open && notice('info', 'Nothing to rework', 'Only accepted work comes back. What is not accepted yet is put right on it.')}
      ${
        open &&
        html`<p>It is put right without charge: no minimum, no trip, nobody has to approve it.</p>
      <form method="post" action="${path}/rework" id="rework" data-sending="Writing up…">
        ${hiddenCsrf(frame.csrfToken)}${hiddenField('id', typed.id)}${hiddenField('visit_id', typed.visitId)}
        ${radioCards({ name: 'reason', label: 'Why', value: typed.reason, required: true, error: errorOf('reason'), choices: choicesOf(reworkReasons) })}
        ${dateField({ name: 'day', label: 'Day of work', error: errorOf('day'), value: typed.day === '' ? frame.me.today : typed.day })}
        ${checkboxField({ name: 'after_hours', label: 'After hours', checked: typed.afterHours })}
        ${checkboxField({ name: 'rush', label: 'Rush, asked for within the day', checked: typed.rush })}
      </form>`
      }
      <h2>What was done</h2>
      <ul>${view.lines.filter((line) => line.answer === 'approved').map((line) => html`<li>${line.words}</li>`)}</ul>
      ${picturesOf(view)}
      <p>${quietLink({ label: 'Back to the work order', href: path })}</p>`,
    primaryAction: open
      ? fieldButton({ label: 'Write up the rework', form: 'rework' })
      : fieldLink({ label: 'Back to the work order', href: path }),
  });
}
