import {
  adviseMethods,
  allows,
  type Damage,
  damageWords,
  displayPercent,
  formatDecimal,
  isSamePart,
  type MaterialFinding,
  type Method,
  methods,
  type Repaired,
  rateApplies,
  settledMaterial,
} from '@grainwright/domain';
import type { EarlierWorkView, RepairChoicesView, RepairFamily } from '@grainwright/operations';
import { fieldButton, quietButton, quietLink } from '../../../look/buttons.ts';
import { fieldGroup } from '../../../look/field-group.ts';
import { dayText, moneyText } from '../../../look/figures.ts';
import {
  checkboxField,
  errorSummary,
  hiddenCsrf,
  hiddenField,
  hintAndError,
  moneyField,
  numberField,
  selectField,
  textArea,
  textField,
} from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { problemsOf } from '../../form-problems.ts';
import { besideEachOther } from '../../work-order/earlier-parts.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { type LinePage, sendsEstimate } from './damage-view.ts';
import { findingShown, overruleFields } from './finding-parts.ts';
import { keptDamage, keptFinding } from './kept-fields.ts';
import { repairFields } from './line-form.ts';

export interface RepairPage extends LinePage {
  readonly damage: Damage;
  /** Null where nothing was tested. */
  readonly finding: MaterialFinding | null;
  readonly choices: RepairChoicesView;
  /** The size in the form was measured on another vehicle. */
  readonly sizeOfAnother: boolean;
  /** What else was written up of the vehicle, where the line was refused as a duplicate. */
  readonly earlier: readonly EarlierWorkView[];
}

/** Last screen of a line: what the finding tells, how it is repaired, its size and its price. */
export function repairPage(page: RepairPage): Html {
  const { frame, view, typed, problem, finding } = page;
  const { summary, errorOf } = problemsOf(problem, [...repairFields, 'another_damage', 'floor_reason']);
  return fieldPage({
    ...frame,
    title: `Line of ${workOrderNumber(view.number)}`,
    heading: 'Which repair?',
    lead: `${workOrderNumber(view.number)} · ${damageWords(page.damage)}`,
    current: null,
    scripts: [frame.assets.sending],
    body: html`${errorSummary(summary, problem?.code === 'duplicate' ? 'Look before you save' : undefined)}
      ${page.versionId !== null && sendsEstimate}
      ${page.sizeOfAnother && notice('info', 'Measure this one', 'The size below is that of the line you repeat, and the price goes by it. Measure this damage, correct the size where it differs, and keep the line.')}
      ${finding && findingShown(finding, page.damage)}
      <form method="post" action="${page.address}" id="line" data-sending="Keeping…">
        ${hiddenCsrf(frame.csrfToken)}${hiddenField('line_id', page.lineId)}
        ${page.versionId !== null && hiddenField('version_id', page.versionId)}${keptDamage(typed)}${keptFinding(typed)}
        ${finding && overruleFields(typed, errorOf)}
        ${sizeFields(page, errorOf)}
        ${methodFields(page, errorOf('methods'))}
        ${byHandFields(page, errorOf)}
        ${duplicateFields(page, errorOf('another_damage'))}
        ${floorField(page, errorOf('floor_reason'))}
        ${textArea({ name: 'note', label: 'Note (the account sees this)', error: errorOf('note'), value: typed.note, rows: 3, maxLength: 2000 })}
        <div class="buttons">
          ${quietButton({ label: 'Back to the damage', name: 'step', value: 'damage' })}
          ${quietButton({ label: 'Back to the material', name: 'step', value: 'material_again' })}
        </div>
      </form>
      <p>${quietLink({ label: 'Back to the work order', href: `/field/work-orders/${view.id}` })}</p>`,
    primaryAction: fieldButton({
      label: page.versionId === null ? 'Keep the line' : 'Send the changed estimate',
      form: 'line',
      name: 'step',
      value: 'save',
    }),
  });
}

/** Both side by side, and a tick that it is another damage. */
function duplicateFields(page: RepairPage, error: string | undefined): Html | null {
  const { view, damage, earlier, problem } = page;
  if (problem?.code !== 'duplicate') return null;
  const placed = { part: damage.part, side: damage.position, repairsDamage: true };
  const same = earlier.find(
    (each) =>
      (each.maybeDuplicate || each.maybeComeback) && each.lines.some((line) => isSamePart(line, placed)),
  );
  const now = {
    heading: `${workOrderNumber(view.number)}, this one`,
    rows: [
      { term: 'Vehicle', words: view.vehicle.description },
      { term: 'Account', words: view.account.name },
      { term: 'Its number', words: view.numbers.own },
      { term: 'Day', words: dayText(view.visit.day) },
      { term: 'Technician', words: view.technician.name },
      { term: 'Lines', words: damageWords(damage) },
    ],
  };
  return html`${same && besideEachOther(now, same, '/field/work-orders')}
    ${same?.maybeComeback === true && html`<p>${quietLink({ label: `It came back: rework of ${workOrderNumber(same.number)}`, href: `/field/work-orders/${same.id}/rework` })}</p>`}
    ${checkboxField({ name: 'another_damage', label: 'It is another damage', hint: 'Stays on record with your name', error })}`;
}

/** Who sends a changed estimate below the floor as the owner may consent to it right here. */
function floorField({ frame, problem }: RepairPage, error: string | undefined): Html | null {
  const asked = problem?.code === 'below_floor' || problem?.field === 'floor_reason';
  if (!asked || !allows(frame.me.role, 'consent_below_floor')) return null;
  return textField({
    name: 'floor_reason',
    label: 'Why this price may be charged all the same',
    hint: 'Stays on record with your name. The account does not see it.',
    error,
    maxLength: 500,
    autocomplete: 'off',
  });
}

/** What works comes first; what fails is not offered. */
function methodFields({ finding, typed, isNew }: RepairPage, error: string | undefined): Html {
  const advice = finding === null ? { works: [], fails: [] } : adviseMethods(finding);
  const others = methodNames.filter(
    (method) => !advice.works.includes(method) && !advice.fails.includes(method),
  );
  return fieldGroup(
    'How you will repair it',
    html`${hintAndError({ name: 'methods', error, hint: isNew && typed.methods.length > 0 && 'Ticked as is usual; change what differs' })}
      ${[...advice.works, ...others].map((method, index) =>
        checkboxField({
          name: 'methods',
          id: index === 0 ? undefined : `method-${method}`,
          label: methods[method].label,
          value: method,
          checked: typed.methods.includes(method),
        }),
      )}`,
  );
}

const isMethod = (key: string): key is Method => Object.hasOwn(methods, key);
const methodNames = Object.keys(methods).filter(isMethod);

function sizeFields(
  { typed, choices, damage, finding }: RepairPage,
  errorOf: (field: string) => string | undefined,
): Html {
  const word = (name: string) => ({ name, error: errorOf(name) });
  const material = finding === null ? null : settledMaterial(finding);
  return html`
    ${numberField({ ...word('measured_inches'), label: 'Measured size', hint: 'Along the longest side, with the ruler in the picture', unit: 'in', value: typed.measuredInches })}
    ${selectField({
      ...word('family'),
      label: 'Repair',
      hint: 'Part, material and measured size pick the price',
      empty: 'Choose the repair',
      value: typed.family,
      choices: choices.families.map((family) => ({
        value: family.family,
        label: familyWords(family, { part: damage.part, material }, choices.currency),
      })),
    })}
    ${selectField({
      ...word('factor_code'),
      label: 'Extra care',
      empty: 'None',
      value: typed.factorCode,
      choices: choices.factors.map(({ code, name, percent }) => ({
        value: code,
        label: `${name}, ${formatDecimal(percent)} %`,
      })),
    })}`;
}

function byHandFields(
  { frame, typed, choices }: RepairPage,
  errorOf: (field: string) => string | undefined,
): Html {
  if (!frame.me.pricesByHand && typed.byHandPrice === '')
    return html`<p class="hint">What the price book has no price for is kept without one. The office prices it.</p>`;
  const word = (name: string) => ({ name, error: errorOf(name) });
  return fieldGroup(
    'By hand, where the price book has no price',
    html`${moneyField({ ...word('by_hand_price'), label: 'Price', hint: furtherHint(choices), currency: choices.currency, value: typed.byHandPrice })}
      ${textField({ ...word('by_hand_reason'), label: 'Reason', value: typed.byHandReason, maxLength: 500, autocomplete: 'off' })}
      ${numberField({ ...word('by_hand_materials_percent'), label: 'Of it, materials', unit: '%', value: typed.byHandMaterialsPercent })}`,
  );
}

function furtherHint({ furtherPercents }: RepairChoicesView): string | undefined {
  if (furtherPercents.length === 0) return undefined;
  const percents = furtherPercents.map(displayPercent).join(', then ');
  return `Further repairs on this vehicle are discounted (${percents}): this price too.`;
}

/** With the list prices of what is for this part and material. */
function familyWords({ family, rates }: RepairFamily, repaired: Repaired, currency: string): string {
  const prices = rates
    .filter((rate) => rateApplies(rate, repaired))
    .map((rate) => rate.listMinor)
    .toSorted((a, b) => (a < b ? -1 : 1));
  const [least, most] = [prices[0], prices.at(-1)];
  if (least === undefined || most === undefined) return `${family}, no price for this part or material`;
  const range =
    least === most
      ? moneyText(least, currency)
      : `${moneyText(least, currency)} to ${moneyText(most, currency)}`;
  return `${family}, list ${range}`;
}
