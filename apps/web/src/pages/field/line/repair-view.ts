import {
  adviseMethods,
  type DamageKind,
  damageWords,
  formatDecimal,
  isSamePart,
  type MaterialFinding,
  type Method,
  materials,
  materialWords,
  methods,
  type PartPosition,
  type VehiclePart,
} from '@grainwright/domain';
import type { EarlierWorkView, LineInput, RepairChoicesView, RepairFamily } from '@grainwright/operations';
import { fieldButton, quietButton, quietLink } from '../../../look/buttons.ts';
import { fieldGroup } from '../../../look/field-group.ts';
import { moneyText } from '../../../look/figures.ts';
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
import { choicesOf } from '../choices.ts';
import { type LinePage, sendsEstimate } from './damage-view.ts';
import { keptDamage } from './kept-fields.ts';
import { repairFields } from './line-form.ts';

export interface RepairPage extends LinePage {
  readonly damage: {
    readonly kind: DamageKind;
    readonly part: VehiclePart;
    readonly position: PartPosition | null;
  };
  /** Null where nothing was tested. */
  readonly finding: MaterialFinding | null;
  readonly choices: RepairChoicesView;
  /** What else was written up of the vehicle, where the line was refused as a duplicate. */
  readonly earlier: readonly EarlierWorkView[];
}

/** Second screen of a line: what the test tells, how it is repaired, its size and its price. */
export function repairPage(page: RepairPage): Html {
  const { frame, view, typed, problem, finding } = page;
  const { summary, errorOf } = problemsOf(problem, [...repairFields, 'another_damage']);
  return fieldPage({
    ...frame,
    title: `Line of ${workOrderNumber(view.number)}`,
    heading: 'Which repair?',
    lead: `${workOrderNumber(view.number)} · ${damageWords(page.damage)}`,
    current: null,
    scripts: [frame.assets.sending],
    body: html`${errorSummary(summary)}
      ${page.versionId !== null && sendsEstimate}
      ${finding && findingNotice(finding)}
      <form method="post" action="${page.address}" id="line" data-sending="Keeping…">
        ${hiddenCsrf(frame.csrfToken)}${hiddenField('line_id', page.lineId)}
        ${page.versionId !== null && hiddenField('version_id', page.versionId)}${keptDamage(typed)}
        ${finding && overruleFields(typed, errorOf)}
        ${sizeFields(page, errorOf)}
        ${methodFields(finding, typed, errorOf('methods'))}
        ${byHandFields(page, errorOf)}
        ${duplicateFields(page, errorOf('another_damage'))}
        ${textArea({ name: 'note', label: 'Note (the account sees this)', error: errorOf('note'), value: typed.note, rows: 3, maxLength: 2000 })}
        <p>${quietButton({ label: 'Back to the damage', name: 'step', value: 'damage' })}</p>
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
    (each) => each.maybeDuplicate && each.lines.some((line) => isSamePart(line, placed)),
  );
  const now = {
    heading: `${workOrderNumber(view.number)}, this one`,
    rows: [
      { term: 'Vehicle', words: view.vehicle.description },
      { term: 'Account', words: view.account.name },
      { term: 'Its number', words: view.numbers.own },
      { term: 'Day', words: view.visit.day },
      { term: 'Technician', words: view.technician.name },
      { term: 'Lines', words: damageWords(damage) },
    ],
  };
  return html`${same && besideEachOther(now, same, '/field/work-orders')}
    ${checkboxField({ name: 'another_damage', label: 'It is another damage', hint: 'Stays on record with your name', error })}`;
}

function findingNotice(finding: MaterialFinding): Html {
  const advice = adviseMethods(finding);
  const words = materialWords(finding);
  const listed = (which: readonly Method[]) => which.map((method) => methods[method].label).join(', ');
  return notice(
    'info',
    `${words.charAt(0).toUpperCase()}${words.slice(1)}`,
    html`${advice.works.length > 0 && html`<p>Works: ${listed(advice.works)}.</p>`}
      ${advice.fails.length > 0 && html`<p>Does not work, and is locked out: ${listed(advice.fails)}.</p>`}
      ${advice.works.length === 0 && advice.fails.length === 0 && html`<p>It has its own methods; choose what you will do.</p>`}`,
  );
}

function overruleFields(typed: LineInput, errorOf: (field: string) => string | undefined): Html {
  return fieldGroup(
    'If you know better',
    html`${selectField({ name: 'overruled_material', label: 'It is', empty: 'As the test suggests', error: errorOf('overruled_material'), value: typed.overruledMaterial, choices: choicesOf(materials) })}
      ${textField({ name: 'overrule_reason', label: 'Because', hint: 'Stays on record beside what was observed', error: errorOf('overrule_reason'), value: typed.overruleReason, maxLength: 500, autocomplete: 'off' })}
      <p>${quietButton({ label: 'Show the methods for that', name: 'step', value: 'found' })}</p>`,
  );
}

/** What works comes first; what fails is not offered. */
function methodFields(finding: MaterialFinding | null, typed: LineInput, error: string | undefined): Html {
  const advice = finding === null ? { works: [], fails: [] } : adviseMethods(finding);
  const others = methodNames.filter(
    (method) => !advice.works.includes(method) && !advice.fails.includes(method),
  );
  return fieldGroup(
    'How you will repair it',
    html`${hintAndError({ name: 'methods', error })}
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

function sizeFields({ typed, choices }: RepairPage, errorOf: (field: string) => string | undefined): Html {
  const word = (name: string) => ({ name, error: errorOf(name) });
  return html`
    ${numberField({ ...word('measured_inches'), label: 'Measured size', hint: 'Along the longest side, with the ruler in the picture', unit: 'in', value: typed.measuredInches })}
    ${selectField({
      ...word('family'),
      label: 'Repair',
      hint: 'The measured size picks the price',
      empty: 'Choose the repair',
      value: typed.family,
      choices: choices.families.map((family) => ({
        value: family.family,
        label: familyWords(family, choices.currency),
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

function byHandFields({ typed, choices }: RepairPage, errorOf: (field: string) => string | undefined): Html {
  const word = (name: string) => ({ name, error: errorOf(name) });
  return fieldGroup(
    'By hand, where the price book has no price',
    html`${moneyField({ ...word('by_hand_price'), label: 'Price', currency: choices.currency, value: typed.byHandPrice })}
      ${textField({ ...word('by_hand_reason'), label: 'Reason', value: typed.byHandReason, maxLength: 500, autocomplete: 'off' })}
      ${numberField({ ...word('by_hand_materials_percent'), label: 'Of it, materials', unit: '%', value: typed.byHandMaterialsPercent })}`,
  );
}

function familyWords({ family, rates }: RepairFamily, currency: string): string {
  const prices = rates.map((rate) => rate.listMinor).toSorted((a, b) => (a < b ? -1 : 1));
  const [least, most] = [prices[0], prices.at(-1)];
  if (least === undefined || most === undefined) return family;
  const range =
    least === most
      ? moneyText(least, currency)
      : `${moneyText(least, currency)} to ${moneyText(most, currency)}`;
  return `${family}, list ${range}`;
}
