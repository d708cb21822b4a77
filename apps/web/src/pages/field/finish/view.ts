import { type Contradiction, type Method, methods as methodTraits, type Problem } from '@grainwright/domain';
import type { KeepInSpiteInput, OverrideInput, WorkReview } from '@grainwright/operations';
import { pictureRow } from '../../../look/before-after.ts';
import { fieldButton, fieldLink, quietLink } from '../../../look/buttons.ts';
import {
  errorSummary,
  type FieldError,
  hiddenCsrf,
  hiddenField,
  moneyField,
  numberField,
  textField,
} from '../../../look/forms.ts';
import { attributes, type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { problemsOf } from '../../form-problems.ts';
import type { FieldFrame } from '../../person.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { lampField } from '../lamp-field.ts';
import { workLead, workOrderPath } from '../work-words.ts';

export interface FinishPage {
  readonly frame: FieldFrame & { readonly sendingScript: string };
  readonly review: WorkReview;
  /** Layers as typed, by line; the stored ones where nothing was typed. */
  readonly layersTyped: ReadonlyMap<string, string>;
  readonly overrides: readonly OverrideInput[];
  readonly photoReasons: readonly KeepInSpiteInput[];
  /** Makes the id of a reason. */
  readonly newId: () => string;
  readonly costs: {
    readonly technicianMinutes: string;
    readonly materialsCost: string;
    readonly airbagLamp: string;
  };
  /** Whether somebody has signed already for work that is finished with this form. */
  readonly signed?: boolean;
  /** Contradictions are shown once finishing was tried. */
  readonly tried: boolean;
  readonly problem: Problem | null;
}

export function finishView(page: FinishPage): Html {
  const { frame, review } = page;
  const path = workOrderPath(review.workOrder);
  const finishable = review.workOrder.state === 'in_work';
  const photosMissing = review.missingPhotos.length > 0;
  return fieldPage({
    ...frame,
    title: `Finish ${workOrderNumber(review.workOrder.number)}`,
    heading: 'Finish the work',
    lead: workLead(review.workOrder),
    current: null,
    scripts: [frame.sendingScript],
    body: html`
      ${page.problem && errorSummary(errorsOf(page, page.problem))}
      ${page.signed === true && notice('info', 'Somebody has signed already', 'What was signed waits for this. Leave the methods as they were shown then; with others the signer has to be asked again.')}
      ${!finishable && notice('info', 'Nothing to finish', 'Work is finished from “in work”.')}
      ${finishable && photosMissing && missing(review)}
      ${finishable && workForm(page)}
      ${
        review.handOver.length > 0 &&
        html`<h2>When you hand it over</h2>
        <ul>${review.handOver.map(({ sentence }) => html`<li>${sentence}</li>`)}</ul>`
      }
      <p>${quietLink({ label: 'Back to the work order', href: path })}</p>`,
    primaryAction: primaryAction(path, finishable, photosMissing),
  });
}

function primaryAction(path: string, finishable: boolean, photosMissing: boolean): Html {
  if (!finishable) return fieldLink({ label: 'Back to the work order', href: path });
  if (photosMissing) return fieldLink({ label: 'Take the missing photos', href: `${path}/photos` });
  return fieldButton({ label: 'Finish work', form: 'finish' });
}

function missing({ missingPhotos }: WorkReview): Html {
  return notice(
    'problem',
    missingPhotos.length === 1 ? 'One photo is missing' : `${missingPhotos.length} photos are missing`,
    html`<ul>${missingPhotos.map((words) => html`<li>${words}</li>`)}</ul>`,
  );
}

function workForm(page: FinishPage): Html {
  const { frame, review, tried } = page;
  return html`<form id="finish" method="post" action="${workOrderPath(review.workOrder)}/finish" data-sending="Finishing…">
    ${hiddenCsrf(frame.csrfToken)}
    ${hiddenField('described', 'yes')}
    ${review.photoWarnings.length > 0 && photoWarnings(page)}
    ${tried && review.contradictions.length > 0 && contradictions(page)}
    ${tried && hiddenField('asked', 'yes')}
    <h2>How it was worked</h2>
    ${review.lines.map((line) => lineWork(line, page.layersTyped.get(line.id) ?? String(line.layers ?? '')))}
    ${lastWords(page)}
  </form>`;
}

/** What it took, and the airbag lamp as the vehicle leaves. None of it has to be filled in. */
function lastWords({ frame, costs, problem }: FinishPage): Html {
  const { errorOf } = problemsOf(problem, ['technician_minutes', 'materials_cost', 'airbag_lamp']);
  return html`<h2>What it took</h2>
    <p class="hint">For the business only; the account doesn’t see it.</p>
    ${numberField({ name: 'technician_minutes', label: 'Your time', unit: 'min', whole: true, value: costs.technicianMinutes, error: errorOf('technician_minutes'), required: false })}
    ${moneyField({ name: 'materials_cost', label: 'Materials used', currency: frame.me.business.currency, value: costs.materialsCost, error: errorOf('materials_cost'), required: false })}
    ${lampField('Airbag lamp now', costs.airbagLamp, errorOf('airbag_lamp'))}`;
}

/** What was planned and what fits the material comes first; every other method is one tap away. */
function lineWork(line: WorkReview['lines'][number], layers: string): Html {
  const box = (method: Method) =>
    html`<label class="check"><input ${attributes({
      type: 'checkbox',
      name: `methods-${line.id}`,
      value: method,
      checked: line.methods.includes(method),
    })}> <span>${methodTraits[method].label}</span></label>`;
  const near = methodNames.filter(
    (method) => line.methods.includes(method) || line.fittingMethods.includes(method),
  );
  const others = methodNames.filter((method) => !near.includes(method));
  return html`<fieldset class="form-field">
    <legend>${line.label}</legend>
    ${hiddenField('line', line.id)}
    ${near.length === 0 ? others.map(box) : html`${near.map(box)}<details><summary>Other methods</summary>${others.map(box)}</details>`}
    ${numberField({ name: `layers-${line.id}`, label: 'Layers put on', hint: 'Needed if you filled or coated it.', unit: 'layers', whole: true, value: layers })}
  </fieldset>`;
}

const isMethod = (key: string): key is Method => Object.hasOwn(methodTraits, key);
const methodNames = Object.keys(methodTraits).filter(isMethod);

/** Each contradiction leads to its reason, if one helps; anything else is of its field or the whole form. */
function errorsOf(page: FinishPage, problem: Problem): readonly FieldError[] {
  const { review } = page;
  if (problem.code !== 'contradiction') return [{ field: problem.field ?? null, message: problem.detail }];
  const photos = review.photoWarnings
    .filter(({ photoId }) => !page.photoReasons.some((each) => each.photoId === photoId))
    .map(({ photoId, sentences }) => ({ field: `keep-${photoId}`, message: sentences.join(' ') }));
  const said = review.contradictions
    .filter(({ weight }) => weight !== 'ask')
    .map((each) => ({
      field: each.weight === 'mend' ? null : `reason-${contradictionKey(each)}`,
      message: each.sentence,
    }));
  const found = [...photos, ...said];
  // A phone without signal may not find all that the server did.
  return found.length > 0 ? found : [{ field: null, message: problem.detail }];
}

/** Each is mended below, by the methods and layers, or stays with a reason. */
function contradictions(page: FinishPage): Html {
  const { contradictions: found } = page.review;
  const ofWork = found.filter(({ code }) => code !== 'airbag_lamp_came_on');
  return html`${ofWork.length > 0 && workThatDoesNotFit(page, ofWork)}
    ${found.filter((each) => !ofWork.includes(each)).map((each) => lampCameOn(page, each))}`;
}

function workThatDoesNotFit(page: FinishPage, found: readonly Contradiction[]): Html {
  return html`<h2>This does not fit together</h2>
    <p>Correct the methods or layers below, or say why it is right as it is.</p>
    ${found.filter(({ weight }) => weight === 'ask').map(({ sentence }) => notice('info', 'Is that right?', html`<p>${sentence}</p><p>Correct it below, or finish again if it is.</p>`))}
    ${found.filter(({ weight }) => weight === 'mend').map(({ sentence }) => notice('problem', 'This has to be mended', sentence))}
    ${found.filter(({ weight }) => weight === 'reason').map((each) => reasonField(page, each, each.sentence, 'Why it is right as it is'))}`;
}

/** No reason makes it right: it is written down who knows of it and who looks at it, and the caution stays in sight. */
function lampCameOn(page: FinishPage, lamp: Contradiction): Html {
  return html`<h2>The airbag lamp came on</h2>
    ${notice('problem', 'Do not look for the cause yourself', lamp.sentence)}
    ${reasonField(page, lamp, 'Who was told, and where the vehicle goes', 'If the lamp was not on, correct “Airbag lamp now” below instead.')}`;
}

function reasonField({ overrides }: FinishPage, each: Contradiction, label: string, hint: string): Html {
  const key = contradictionKey(each);
  return textField({
    name: `reason-${key}`,
    label,
    value: overrides.find((override) => contradictionKey(override) === key)?.reason,
    hint,
    maxLength: 500,
    autocomplete: 'off',
  });
}

/** Photos with something against them: taken again, or kept with a reason. */
function photoWarnings({ review, photoReasons, newId }: FinishPage): Html {
  const path = `${workOrderPath(review.workOrder)}/photos`;
  return html`<h2>Look at these photos again</h2>
    <p>Take each again while the vehicle is here, or say why it is good enough.</p>
    ${review.photoWarnings.map(
      ({ photoId, shows, sentences }) => html`<article class="look-again">
        ${pictureRow([{ src: `/photos/${photoId}/thumb`, alt: shows, href: `/photos/${photoId}/original` }])}
        <div class="look-again-said">
          <h3>${shows.charAt(0).toUpperCase()}${shows.slice(1)}</h3>
          ${sentences.map((sentence) => html`<p>${sentence}</p>`)}
          <p>${quietLink({ label: 'Take it again', href: `${path}?retake=${photoId}` })}</p>
        </div>
        ${hiddenField(`keep-id-${photoId}`, photoReasons.find((each) => each.photoId === photoId)?.overrideId ?? newId())}
          ${textField({
            name: `keep-${photoId}`,
            label: 'Keep it, because …',
            hint: 'Needed, unless you take it again.',
            value: photoReasons.find((each) => each.photoId === photoId)?.reason,
            maxLength: 500,
            autocomplete: 'off',
          })}
      </article>`,
    )}`;
}

/** Names a contradiction within a work order. */
export function contradictionKey({
  code,
  lineId,
}: Pick<Contradiction, 'lineId'> & { readonly code: string }): string {
  return `${code}-${lineId ?? 'whole'}`;
}
