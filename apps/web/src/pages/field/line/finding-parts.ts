import {
  adviseMethods,
  cautionsFor,
  type Damage,
  howToWork,
  type MaterialFinding,
  materials,
  methods,
  observationLabels,
  settledMaterial,
  whyItFails,
} from '@grainwright/domain';
import type { LineInput } from '@grainwright/operations';
import { quietButton } from '../../../look/buttons.ts';
import { selectField, textField } from '../../../look/forms.ts';
import { attributes, type Html, html } from '../../../look/html.ts';
import { definitionList } from '../../../look/tables.ts';
import { choicesOf } from '../choices.ts';

/** What was seen, what it likely is, which methods fit and which are forbidden and why, with what to mind. */
export function findingShown(finding: MaterialFinding, damage: Damage): Html {
  const advice = adviseMethods(finding);
  const material = settledMaterial(finding);
  const cautions = cautionsFor({
    parts: [damage.part],
    materials: material === null ? [] : [material],
    methods: advice.works,
    circumstances: [],
  }).filter(({ moment }) => moment === 'start');
  return html`<section><h2>${capital(headline(finding))}</h2>
    ${definitionList([
      { term: 'Observed', value: observedShown(finding) },
      { term: 'Inferred', value: finding.inferred.words },
      ...(finding.overruled === null
        ? []
        : [
            {
              term: 'Your judgment',
              value: `${materials[finding.overruled.material]}, because: ${finding.overruled.reason}`,
            },
          ]),
    ])}
    ${advice.works.length > 0 && html`<h3>What fits</h3><p>${capital(advice.works.map((method) => methods[method].label).join(', '))}.</p>`}
    ${advice.fails.length > 0 && html`<h3>Forbidden on it</h3><ul>${advice.fails.map((method) => html`<li>${capital(methods[method].label)}: ${whyItFails(finding, method)}</li>`)}</ul>`}
    ${howToWork(finding).map((sentence) => html`<p>${sentence}</p>`)}
    ${advice.works.length === 0 && advice.fails.length === 0 && html`<p>It has its own methods; choose what you will do.</p>`}
    ${cautions.length > 0 && html`<details><summary>Cautions for this work (${cautions.length})</summary><ul>${cautions.map(({ sentence }) => html`<li>${sentence}</li>`)}</ul></details>`}
  </section>`;
}

/** Never as certain: what was inferred, or whose judgment it is. */
function headline({ inferred, overruled }: MaterialFinding): string {
  return overruled === null ? inferred.words : `${materials[overruled.material]}, in your judgment`;
}

function observedShown({ observed }: MaterialFinding): string {
  const looksLike = 'looksLike' in observed ? observed.looksLike : null;
  const label = observationLabels[observed.kind];
  return looksLike === null ? label : `${label}; looks like ${materials[looksLike]}`;
}

/** The technician’s word over the test, folded away until it is wanted. */
export function overruleFields(typed: LineInput, errorOf: (field: string) => string | undefined): Html {
  const errors = [errorOf('overruled_material'), errorOf('overrule_reason')];
  const open = typed.overruledMaterial !== '' || errors.some((error) => error !== undefined);
  return html`<details ${attributes({ open })}><summary>It is something else</summary>
    ${selectField({ name: 'overruled_material', label: 'It is', empty: 'As the test suggests', error: errors[0], value: typed.overruledMaterial, choices: choicesOf(materials) })}
    ${textField({ name: 'overrule_reason', label: 'Because', hint: 'Stays on record beside what was observed', error: errors[1], value: typed.overruleReason, maxLength: 500, autocomplete: 'off' })}
    <p>${quietButton({ label: 'Show the methods for that', name: 'step', value: 'found' })}</p>
  </details>`;
}

function capital(words: string): string {
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
}
