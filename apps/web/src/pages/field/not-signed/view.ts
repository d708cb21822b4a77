import { missingSignatureReasons, type Problem } from '@grainwright/domain';
import type { WorkOrderView } from '@grainwright/operations';
import { fieldButton, fieldLink, quietLink } from '../../../look/buttons.ts';
import {
  errorSummary,
  hiddenCsrf,
  hiddenField,
  radioCards,
  textArea,
  textField,
} from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { storyNotices } from '../../work-order/story-parts.ts';
import { choicesOf } from '../choices.ts';

export interface TypedMissing {
  readonly id: string;
  readonly why: string;
  readonly reason: string;
  readonly witness: string;
}

export interface NotSignedPage {
  readonly frame: Frame;
  readonly view: WorkOrderView;
  readonly typed: TypedMissing;
  readonly problem: Problem | null;
}

const missingFields = ['why', 'reason', 'witness'];

/** Why nobody signed, and who else saw it. */
export function notSignedView({ frame, view, typed, problem }: NotSignedPage): Html {
  const path = `/field/work-orders/${view.id}`;
  const { summary, errorOf } = problemsOf(problem, missingFields);
  const open = view.state === 'done';
  return fieldPage({
    ...frame,
    title: `${workOrderNumber(view.number)}, not signed`,
    heading: 'Nobody signs?',
    lead: `${workOrderNumber(view.number)} · ${view.vehicle.description}`,
    current: null,
    scripts: [frame.assets.sending],
    body: html`${errorSummary(summary)}
      ${storyNotices(view, '/field/work-orders', frame.me.business.timeZone)}
      ${
        open
          ? html`<p>It stays on record and the work stays unaccepted. Somebody may still sign later, or a manager lets it go.</p>
      <form method="post" action="${path}/not-signed" id="not-signed" data-sending="Keeping…">
        ${hiddenCsrf(frame.csrfToken)}${hiddenField('id', typed.id)}
        ${radioCards({ name: 'why', label: 'What happened', value: typed.why, required: true, error: errorOf('why'), choices: choicesOf(missingSignatureReasons) })}
        ${textArea({ name: 'reason', label: 'Why', hint: 'In their words, if they gave any', value: typed.reason, error: errorOf('reason'), required: true, rows: 2, maxLength: 500 })}
        ${textField({ name: 'witness', label: 'Who else saw it', hint: 'Full name of a second person. May be left empty where nobody was there.', value: typed.witness, error: errorOf('witness'), required: false, maxLength: 200, autocomplete: 'off' })}
      </form>`
          : notice(
              'info',
              'Nothing to sign',
              'Only finished work that is not accepted yet waits for a signature.',
            )
      }
      <p>${quietLink({ label: 'Back to the work order', href: path })}</p>`,
    primaryAction: open
      ? fieldButton({ label: 'Keep this on record', form: 'not-signed' })
      : fieldLink({ label: 'Back to the work order', href: path }),
  });
}
