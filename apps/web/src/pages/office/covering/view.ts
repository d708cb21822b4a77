import { allows, coveringKinds, type Problem, photoPurposes } from '@grainwright/domain';
import {
  type CoveringView,
  deletionWords,
  type PhotoCoverings,
  type PhotoOnRecord,
} from '@grainwright/operations';
import { actionButton, quietButton, quietLink } from '../../../look/buttons.ts';
import { instantShown } from '../../../look/figures.ts';
import {
  errorSummary,
  hiddenCsrf,
  hiddenField,
  numberField,
  selectField,
  textField,
} from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { dataTable } from '../../../look/tables.ts';
import { choicesOf } from '../../field/choices.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { cameraPart } from './camera-part.ts';
import type { CoveringForm, TypedRegion } from './form.ts';

export interface CoveringPage {
  readonly frame: Frame & { readonly coveringScript: string };
  readonly photo: PhotoCoverings;
  readonly onRecord: PhotoOnRecord;
  readonly form: CoveringForm;
  readonly problem: Problem | null;
  /** Of the form that takes it away. */
  readonly uncover: { readonly id: string; readonly reason: string; readonly problem: Problem | null };
}

const blankRows = 2;

/** Faces, license plates and addresses, marked over the picture as it was taken, beside what the others see. */
export function coveringView(page: CoveringPage): Html {
  const { frame, photo } = page;
  const standing = standingOf(photo);
  const number = workOrderNumber(photo.number);
  const purpose = photoPurposes[photo.purpose];
  return officePage({
    ...frame,
    title: `Photo of ${number}, ${purpose}`,
    heading: 'Photo',
    lead: `${number}, ${purpose}`,
    current: 'work-orders',
    beside: html`${quietLink({ label: 'The work order', href: `/office/work-orders/${photo.workOrderId}` })}
      ${quietLink({ label: 'In the field', href: `/field/work-orders/${photo.workOrderId}/photos` })}`,
    scripts: [frame.assets.pictures, frame.coveringScript],
    body:
      photo.deletion !== null
        ? notice(
            'info',
            'The picture is gone',
            `It was ${deletionWords('photos', photo.deletion)}. Its digest: ${photo.sha256}`,
          )
        : html`
      ${stands(page, standing)}
      ${photo.answers.length > 0 && answered(page)}
      ${allows(frame.me.role, 'cover_photos') ? coverForm(page) : html`<h2>As it was taken</h2>${marked(page)}`}
      ${standing && othersSee(photo, standing)}
      ${history(page)}
      ${cameraPart(page.onRecord, frame.me.business.timeZone)}
      ${standing && allows(frame.me.role, 'uncover_photos') && uncoverForm(page)}`,
  });
}

/** The newest covering, unless it took the one before away. */
function standingOf({ coverings }: PhotoCoverings): CoveringView | null {
  const [newest] = coverings;
  return newest === undefined || newest.regions.length === 0 ? null : newest;
}

function stands({ frame }: CoveringPage, standing: CoveringView | null): Html {
  if (standing === null)
    return notice(
      'info',
      'Nothing is covered',
      'The account and the vehicle’s owner see this picture as it is.',
    );
  const since = instantShown(standing.madeAt, frame.me.business.timeZone);
  return standing.ready
    ? notice(
        'done',
        'Parts are covered',
        html`Since ${since}, by ${standing.madeBy}. Nobody but the staff sees the picture without it.`,
      )
    : notice(
        'done',
        'Parts are being covered',
        html`Since ${since}, by ${standing.madeBy}. Until the covered copy is made, nobody but the staff sees the picture at all.`,
      );
}

/** What somebody saw when they answered is on record by its digest; covering changes what is shown, not that. */
function answered({ frame, photo }: CoveringPage): Html {
  const what = { decision: 'answered the estimate', acceptance: 'signed' } as const;
  return html`<h2>Who has seen it</h2>
    <ul>${photo.answers.map(
      (each) =>
        html`<li>${each.name === '' ? 'Somebody' : each.name} ${what[each.what]} with this picture before them, ${instantShown(each.at, frame.me.business.timeZone)}</li>`,
    )}</ul>
    <p class="hint">Their answers name the picture as it was taken, by its digest ${photo.sha256.slice(0, 12)}…, and stay as they are.</p>`;
}

function marked({ photo, form }: CoveringPage): Html {
  const { width, height } = photo;
  if (!photo.copyReady)
    return html`<p><span class="no-picture" data-picture="/photos/${photo.id}/uncovered" data-alt="The picture as it was taken">The picture is being made ready</span></p>`;
  return html`<div class="covering" data-covering>
    <img src="/photos/${photo.id}/uncovered" alt="The picture as it was taken" width="${width}" height="${height}">
    <svg viewBox="0 0 100 100" preserveAspectRatio="none" aria-hidden="true" focusable="false">${form.regions.map(rectangle)}</svg>
  </div>`;
}

function rectangle({ left, top, width, height }: TypedRegion): Html | false {
  const numbers = [left, top, width, height].map((text) => Number(text.replace(',', '.')));
  return (
    numbers.every(Number.isFinite) &&
    html`<rect x="${numbers[0] ?? 0}" y="${numbers[1] ?? 0}" width="${numbers[2] ?? 0}" height="${numbers[3] ?? 0}"/>`
  );
}

function coverForm(page: CoveringPage): Html {
  const { frame, photo, form, problem } = page;
  const { summary, errorOf } = problemsOf(problem, ['reason', 'regions']);
  const blank = { kind: 'face', left: '', top: '', width: '', height: '' };
  const rows = [...form.regions, ...Array.from({ length: blankRows }, () => blank)];
  const error = errorOf('regions');
  return html`<form method="post" action="/office/photos/${photo.id}/covering" class="covering-form" data-sending="Covering…">
    ${errorSummary(summary)}
    ${hiddenCsrf(frame.csrfToken)}${hiddenField('id', form.id)}
    <h2>What is to be covered</h2>
    <p data-covering-hint hidden>Draw over each face, license plate or address; the numbers below follow, and can be typed.</p>
    ${marked(page)}
    <div id="field-regions" tabindex="-1" data-covering-rows>
      ${error !== undefined && html`<p class="error">${error}</p>`}
      ${rows.map((region, index) => regionRow(region, index + 1))}
    </div>
    <p class="hint">In percent of the picture’s width and height, from its upper left corner. Leave a part’s numbers empty, and it covers nothing.</p>
    ${textField({ name: 'reason', label: 'Why', hint: 'E.g. a bystander’s face', value: form.reason, error: errorOf('reason'), required: true, maxLength: 500, autocomplete: 'off' })}
    ${actionButton({ label: 'Cover these parts' })}
  </form>`;
}

function regionRow(region: TypedRegion, number: number): Html {
  const side = (name: 'left' | 'top' | 'width' | 'height', label: string) =>
    numberField({ name, id: `${name}-${number}`, label, unit: '%', value: region[name] });
  return html`<fieldset class="covering-row" data-covering-row>
    <legend>Part ${number}</legend>
    ${selectField({ name: 'kind', id: `kind-${number}`, label: 'What it is', value: region.kind, choices: choicesOf(coveringKinds) })}
    ${side('left', 'From the left')}${side('top', 'From the top')}${side('width', 'Width')}${side('height', 'Height')}
  </fieldset>`;
}

function othersSee(photo: PhotoCoverings, { ready }: CoveringView): Html {
  const src = `/photos/${photo.id}/view`;
  const alt = 'The picture with its parts covered';
  return html`<h2>What the others see</h2>
    <p class="covering">${
      ready
        ? html`<img src="${src}" alt="${alt}" width="${photo.width}" height="${photo.height}">`
        : html`<span class="no-picture" data-picture="${src}" data-alt="${alt}">Parts of the picture are being covered</span>`
    }</p>`;
}

function history({ frame, photo }: CoveringPage): Html {
  return dataTable({
    caption: 'Every covering of this photo',
    rows: photo.coverings,
    empty: html``,
    columns: [
      { header: 'When', names: true, cell: ({ madeAt }) => instantShown(madeAt, frame.me.business.timeZone) },
      { header: 'Who', cell: ({ madeBy }) => madeBy },
      { header: 'What', cell: ({ regions }) => partsWords(regions.map(({ kind }) => coveringKinds[kind])) },
      { header: 'Why', cell: ({ reason }) => reason },
    ],
  });
}

function partsWords(kinds: readonly string[]): string {
  if (kinds.length === 0) return 'taken away';
  const counts = [...Map.groupBy(kinds, (kind) => kind)];
  return counts.map(([kind, all]) => (all.length === 1 ? kind : `${kind} (${all.length})`)).join(', ');
}

function uncoverForm({ frame, photo, uncover }: CoveringPage): Html {
  const { summary, errorOf } = problemsOf(uncover.problem, ['uncover_reason']);
  return html`<form method="post" action="/office/photos/${photo.id}/uncover" class="unprinted">
    <h2>Take the covering away</h2>
    <p>The account and the vehicle’s owner see the whole picture then.</p>
    ${errorSummary(summary)}
    ${hiddenCsrf(frame.csrfToken)}${hiddenField('id', uncover.id)}
    ${textField({ name: 'uncover_reason', label: 'Why everybody may see it', value: uncover.reason, error: errorOf('uncover_reason'), required: true, maxLength: 500, autocomplete: 'off' })}
    ${quietButton({ label: 'Take the covering away' })}
  </form>`;
}
