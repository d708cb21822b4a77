import {
  damageKinds,
  heatTestCautions,
  materials,
  observationLabels,
  type Problem,
  partPositions,
  type VehiclePart,
  vehicleParts,
} from '@grainwright/domain';
import type { LineInput, WorkOrderView } from '@grainwright/operations';
import { fieldButton, quietLink } from '../../../look/buttons.ts';
import {
  errorSummary,
  hiddenCsrf,
  hiddenField,
  radioCards,
  selectField,
  textField,
} from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { choicesOf } from '../choices.ts';
import { keptRepair } from './kept-fields.ts';
import { damageFields } from './line-form.ts';

export interface LinePage {
  readonly frame: Frame;
  readonly view: Pick<
    WorkOrderView,
    'id' | 'number' | 'vehicle' | 'currency' | 'account' | 'numbers' | 'visit' | 'technician'
  >;
  /** Where the form goes: the new line's address, or the line's own. */
  readonly address: string;
  readonly lineId: string;
  /** Of the changed estimate that keeping the line sends; null while it is being written up. */
  readonly versionId: string | null;
  readonly typed: LineInput;
  readonly problem: Problem | null;
}

/** First screen of a line: the part, the damage, and what the heat test showed. */
export function damagePage(page: LinePage): Html {
  const { frame, view, typed, problem } = page;
  const { summary, errorOf } = problemsOf(problem, damageFields);
  const word = (name: string) => ({ name, error: errorOf(name) });
  return fieldPage({
    ...frame,
    title: `Line of ${workOrderNumber(view.number)}`,
    heading: 'What is wrong, and where?',
    lead: `${workOrderNumber(view.number)} · ${view.vehicle.description}`,
    current: null,
    body: html`${errorSummary(summary)}
      ${page.versionId !== null && sendsEstimate}
      <form method="post" action="${page.address}" id="line">
        ${hiddenCsrf(frame.csrfToken)}${hiddenField('line_id', page.lineId)}
        ${page.versionId !== null && hiddenField('version_id', page.versionId)}${hiddenField('step', 'found')}
        ${keptRepair(typed)}
        ${selectField({ ...word('part'), label: 'Part', empty: 'Choose the part', required: true, value: typed.part, choices: choicesOf(vehicleParts) })}
        ${selectField({ ...word('side'), label: 'Side', hint: 'As seen from the driver’s seat', empty: 'Neither', value: typed.side, choices: choicesOf(partPositions) })}
        ${selectField({ ...word('damage'), label: 'Damage', empty: 'Choose what is wrong', required: true, value: typed.damage, choices: choicesOf(damageKinds) })}
        ${textField({ ...word('visible_when'), label: 'When it can be seen', hint: 'Window up, seat forward, door closed', value: typed.visibleWhen, maxLength: 200, autocomplete: 'off' })}
        ${heatCautions(typed.part)}
        ${radioCards({
          ...word('observation'),
          label: 'Heat test: warm it briefly and watch',
          hint: 'What you see, not what you think it is. Never heat what is already burnt.',
          value: typed.observation,
          choices: [...choicesOf(observationLabels), { value: '', label: 'Nothing to test' }],
        })}
        ${selectField({ ...word('looks_like'), label: 'Looks like', hint: 'Only when told by eye, or already burnt', empty: 'Not said', value: typed.looksLike, choices: choicesOf(materials) })}
      </form>
      <p>${quietLink({ label: 'Back to the work order', href: `/field/work-orders/${view.id}` })}</p>`,
    primaryAction: fieldButton({ label: 'Go on: which repair', form: 'line' }),
  });
}

/** Warming a part to test it is work already, so its cautions come first. */
function heatCautions(part: string): Html {
  const known = isPart(part) ? part : null;
  return notice(
    'info',
    known === null ? 'Before the heat test' : `Before the heat test of the ${vehicleParts[known]}`,
    heatTestCautions(known).map((sentence) => html`<p>${sentence}</p>`),
  );
}

const isPart = (text: string): text is VehiclePart => Object.hasOwn(vehicleParts, text);

/** Said before anything is typed: keeping the line goes to the approver at once. */
export const sendsEstimate: Html = notice(
  'info',
  'This sends a changed estimate',
  'The account answers the new one; what became dearer has to be approved again. For damage found just now, take a before picture of the vehicle first.',
);
