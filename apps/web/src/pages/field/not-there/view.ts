import type { Problem } from '@grainwright/domain';
import type { WorkOrderView } from '@grainwright/operations';
import { fieldButton, quietLink } from '../../../look/buttons.ts';
import { errorSummary, hiddenCsrf, textArea } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';

export interface NotTherePage {
  readonly frame: Frame;
  readonly view: WorkOrderView;
  readonly note: string;
  readonly problem: Problem | null;
}

/** One tap says it; a word and a picture of the empty place may go with it. */
export function notThereView({ frame, view, note, problem }: NotTherePage): Html {
  const path = `/field/work-orders/${view.id}`;
  const { summary, errorOf } = problemsOf(problem, ['note']);
  return fieldPage({
    ...frame,
    title: `${workOrderNumber(view.number)}, not there`,
    heading: 'The vehicle is not there?',
    lead: `${workOrderNumber(view.number)} · ${view.vehicle.description} · ${view.account.name}`,
    current: null,
    scripts: [frame.assets.sending],
    body: html`${errorSummary(summary)}
      <p>The work order is voided and keeps its number. If the account’s terms have a fee for it, the account pays it with the visit.</p>
      <form method="post" action="${path}/not-there" id="not-there" data-sending="Sending…">
        ${hiddenCsrf(frame.csrfToken)}
        ${textArea({ name: 'note', label: 'Sold, moved, locked?', hint: 'What you were told, and by whom', value: note, error: errorOf('note'), required: false, rows: 2, maxLength: 500 })}
      </form>
      <p>${quietLink({ label: 'First a picture of the empty place', href: `${path}/photos?line_id=&purpose=walk_around` })}</p>
      <p>${quietLink({ label: 'Back to the work order', href: path })}</p>`,
    primaryAction: fieldButton({ label: 'It is not there', form: 'not-there' }),
  });
}
