import { damageKinds, type Problem, partPositions, vehicleParts } from '@grainwright/domain';
import type { LineInput, LineToRepeat, WorkOrderView } from '@grainwright/operations';
import { fieldButton, quietLink } from '../../../look/buttons.ts';
import { errorSummary, hiddenCsrf, hiddenField, selectField, textField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { problemsOf } from '../../form-problems.ts';
import type { FieldFrame } from '../../person.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { choicesOf } from '../choices.ts';
import { keptFinding, keptRepair } from './kept-fields.ts';
import { damageFields } from './line-form.ts';
import { repeatForm } from './repeat-form.ts';

/** As much of its work order as the screens of a line show; without a number where the server has none for it yet. */
export interface LineOrder {
  readonly id: WorkOrderView['id'];
  readonly number: WorkOrderView['number'] | null;
  readonly currency: string;
  readonly vehicle: Pick<WorkOrderView['vehicle'], 'description'>;
  readonly account: Pick<WorkOrderView['account'], 'name'>;
  readonly numbers: Pick<WorkOrderView['numbers'], 'own'>;
  readonly visit: Pick<WorkOrderView['visit'], 'day'>;
  readonly technician: Pick<WorkOrderView['technician'], 'name'>;
}

export interface LinePage {
  readonly frame: FieldFrame;
  readonly view: LineOrder;
  /** Where the form goes: the new line's address, or the line's own. */
  readonly address: string;
  readonly lineId: string;
  /** Then the repair and its methods are proposed as they are usual. */
  readonly isNew: boolean;
  /** Of the changed estimate that keeping the line sends; null while it is being written up. */
  readonly versionId: string | null;
  readonly typed: LineInput;
  readonly problem: Problem | null;
}

/** First screen of a line: the part and the damage. */
export function damagePage(
  page: LinePage & {
    /** The line that one tap writes once more, under this id; null where there is none. */
    readonly last: LineToRepeat | null;
    readonly repeatId: string;
  },
): Html {
  const { frame, view, typed, problem } = page;
  const { summary, errorOf } = problemsOf(problem, damageFields);
  const word = (name: string) => ({ name, error: errorOf(name) });
  return fieldPage({
    ...frame,
    title: `Line of ${workOrderNumber(view.number)}`,
    heading: 'What is wrong, and where?',
    lead: `${workOrderNumber(view.number)} · ${view.vehicle.description}`,
    current: null,
    scripts: [frame.assets.sending],
    body: html`${errorSummary(summary)}
      ${page.versionId !== null && sendsEstimate}
      ${repeatForm({ csrfToken: frame.csrfToken, workOrderId: view.id, lineId: page.repeatId, last: page.last })}
      <form method="post" action="${page.address}" id="line">
        ${hiddenCsrf(frame.csrfToken)}${hiddenField('line_id', page.lineId)}
        ${page.versionId !== null && hiddenField('version_id', page.versionId)}${hiddenField('step', 'material')}
        ${keptRepair(typed)}${keptFinding(typed)}
        ${selectField({ ...word('part'), label: 'Part', empty: 'Choose the part', required: true, value: typed.part, choices: choicesOf(vehicleParts) })}
        ${selectField({ ...word('side'), label: 'Side', hint: 'As seen from the driver’s seat', empty: 'Neither', value: typed.side, choices: choicesOf(partPositions) })}
        ${selectField({ ...word('damage'), label: 'Damage', empty: 'Choose what is wrong', required: true, value: typed.damage, choices: choicesOf(damageKinds) })}
        ${textField({ ...word('visible_when'), label: 'When it can be seen', hint: 'Window up, seat forward, door closed', value: typed.visibleWhen, maxLength: 200, autocomplete: 'off' })}
      </form>
      <p>${quietLink({ label: 'Back to the work order', href: `/field/work-orders/${view.id}` })}</p>`,
    primaryAction: fieldButton({ label: 'Go on: what it is made of', form: 'line' }),
  });
}

/** Said before anything is typed: keeping the line goes to the approver at once. */
export const sendsEstimate: Html = notice(
  'info',
  'This sends a changed estimate',
  'The account answers the new one; what became dearer has to be approved again. For damage found just now, take a before picture of the vehicle first.',
);
