import {
  type Damage,
  damageWords,
  heatTestCautions,
  heatTests,
  type MaterialByEye,
  materials,
  type Observation,
  observationLabels,
  vehicleParts,
} from '@grainwright/domain';
import { choiceButton, quietButton } from '../../../look/buttons.ts';
import { hiddenCsrf, hiddenField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { type LinePage, sendsEstimate } from './damage-view.ts';
import { keptDamage, keptFinding, keptRepair } from './kept-fields.ts';
import { nothingToTest } from './line-form.ts';

export interface MaterialPage extends LinePage {
  readonly damage: Damage;
}

/**
 * Second screen of a line: one tap says how the material was told. What needs no heat comes before the heat test, and
 * the cautions for heat before the buttons of the test. What is inferred stands on the next screen.
 */
export function materialPage(page: MaterialPage): Html {
  const { frame, view, typed, damage, problem } = page;
  const burnt = damage.kind === 'burn' || damage.kind === 'shrink_hole';
  return fieldPage({
    ...frame,
    title: `Line of ${workOrderNumber(view.number)}`,
    heading: 'What did the material do?',
    lead: `${workOrderNumber(view.number)} · ${damageWords(damage)}`,
    current: null,
    body: html`${problem && notice('problem', 'Say it again', problem.detail)}
      ${page.versionId !== null && sendsEstimate}
      <form method="post" action="${page.address}" id="line">
        ${hiddenCsrf(frame.csrfToken)}${hiddenField('line_id', page.lineId)}
        ${page.versionId !== null && hiddenField('version_id', page.versionId)}${hiddenField('step', 'found')}
        ${keptDamage(typed)}${keptRepair(typed)}
        ${burnt ? [alreadyBurnt(page), byEye(page)] : [byEye(page), alreadyBurnt(page)]}
        ${heatTest(page)}
      </form>
      <form method="post" action="${page.address}">
        ${hiddenCsrf(frame.csrfToken)}${hiddenField('line_id', page.lineId)}
        ${page.versionId !== null && hiddenField('version_id', page.versionId)}${hiddenField('step', 'damage')}
        ${keptDamage(typed)}${keptRepair(typed)}${keptFinding(typed)}
        <p>${quietButton({ label: 'Back to the damage' })}</p>
      </form>`,
  });
}

const seen = ['leather', 'fabric', 'hard_plastic', 'headliner', 'carpet'] as const satisfies MaterialByEye[];

function byEye(page: MaterialPage): Html {
  return html`<section><h2>Told by eye: no heat</h2>
    <div class="choices choices--short">
      ${seen.map((material) => finding(page, capital(materials[material]), { kind: 'by_eye', looksLike: material }))}
      ${finding(page, 'Foam wheel, material missing', { kind: 'foam_wheel_missing_material' })}
      ${choiceButton({ label: 'Nothing to test', name: 'finding', value: nothingToTest, chosen: false })}
    </div></section>`;
}

/** What the damage left behind may point to a material; nothing is heated again. */
function alreadyBurnt(page: MaterialPage): Html {
  const burnt = (label: string, looksLike: keyof typeof materials | null) =>
    finding(page, label, { kind: 'already_burnt', looksLike });
  return html`<section><h2>Already burnt: do not heat it again</h2>
    <div class="choices">
      ${burnt('It drew apart: looks like unbacked vinyl', 'unbacked_vinyl')}
      ${burnt('It melted on its foam: looks like foam-backed vinyl', 'foam_backed_vinyl')}
      ${burnt('It charred or flakes: looks like urethane', 'urethane')}
      ${burnt('It can’t be told', null)}
    </div></section>`;
}

function heatTest(page: MaterialPage): Html {
  const { part } = page.damage;
  return html`<section><h2>Heat test: warm it briefly and watch</h2>
    ${notice(
      'info',
      `Before the heat test of the ${vehicleParts[part]}`,
      heatTestCautions(part).map((sentence) => html`<p>${sentence}</p>`),
    )}
    <p class="hint">What you see, not what you think it is. What it likely is stands on the next screen.</p>
    <div class="choices">
      ${heatTests.map((kind) => finding(page, observationLabels[kind], { kind }))}
    </div></section>`;
}

/** The one that is on record already is marked. */
function finding({ typed }: MaterialPage, label: string, observed: Observation): Html {
  const looksLike = 'looksLike' in observed ? (observed.looksLike ?? '') : '';
  const value = looksLike === '' ? observed.kind : `${observed.kind}:${looksLike}`;
  const chosen = typed.observation === observed.kind && typed.looksLike === looksLike;
  return choiceButton({ label, name: 'finding', value, chosen });
}

function capital(words: string): string {
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
}
