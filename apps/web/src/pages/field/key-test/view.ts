import { type KeyStep, keyResults, keySteps, type Problem } from '@grainwright/domain';
import type { WorkOrderLineView, WorkOrderView } from '@grainwright/operations';
import { fieldButton, quietLink } from '../../../look/buttons.ts';
import { errorSummary, hiddenCsrf, hiddenField, radioCards } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { storySections } from '../../work-order/story-parts.ts';

export interface KeyTestPage {
  readonly frame: Frame;
  readonly view: WorkOrderView;
  readonly line: WorkOrderLineView;
  readonly id: string;
  readonly steps: Readonly<Record<KeyStep, string>>;
  readonly problem: Problem | null;
}

const isStep = (key: string): key is KeyStep => Object.hasOwn(keySteps, key);
const keyStepNames: readonly KeyStep[] = Object.keys(keySteps).filter(isStep);

/** The tests in their order; what a result means stands beside it. */
export function keyTestView({ frame, view, line, id, steps, problem }: KeyTestPage): Html {
  const path = `/field/work-orders/${view.id}`;
  const { summary, errorOf } = problemsOf(problem, keyStepNames);
  return fieldPage({
    ...frame,
    title: `Key remote of ${workOrderNumber(view.number)}`,
    heading: 'Test the key in order',
    lead: `${workOrderNumber(view.number)} · ${line.words}`,
    current: null,
    scripts: [frame.assets.sending],
    body: html`${errorSummary(summary)}
      <p>Stop at the first that fails. The case and pad are replaced only when every test passes.</p>
      <form method="post" action="${path}/key-test/${line.id}" id="key-test" data-sending="Keeping…">
        ${hiddenCsrf(frame.csrfToken)}${hiddenField('id', id)}
        ${keyStepNames.map((step, index) => stepField(step, index + 1, steps[step], errorOf(step)))}
      </form>
      ${storySections({ ...view, stopPoints: [], notSigned: [], keyTests: view.keyTests.filter(({ lineId }) => lineId === line.id) }, frame.me.business.timeZone)}
      <p>${quietLink({ label: 'Back to the work order', href: path })}</p>`,
    primaryAction: fieldButton({ label: 'Keep the results', form: 'key-test' }),
  });
}

function stepField(step: KeyStep, place: number, value: string, error: string | undefined): Html {
  const { label, how, mayBeMissing, pass, fail } = keySteps[step];
  return radioCards({
    name: step,
    label: `${place}. ${label}`,
    hint: how,
    value,
    error,
    choices: [
      { value: 'pass', label: 'Pass', detail: pass },
      { value: 'fail', label: 'Fail', detail: fail },
      ...(mayBeMissing ? [{ value: 'not_fitted', label: capital(keyResults.not_fitted) }] : []),
      { value: '', label: 'Not tested' },
    ],
  });
}

function capital(words: string): string {
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
}
