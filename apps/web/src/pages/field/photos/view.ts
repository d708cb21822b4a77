import {
  type Decimal,
  formatDecimal,
  type PhotoPurpose,
  type Problem,
  photoPurposes,
} from '@grainwright/domain';
import type { PhotosToTake } from '@grainwright/operations';
import { type Picture, pictureRow } from '../../../look/before-after.ts';
import { fieldButton, fieldLink, quietLink } from '../../../look/buttons.ts';
import { moneyText } from '../../../look/figures.ts';
import { cameraField, errorSummary, hiddenCsrf, hiddenField, radioCards } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import { choicesOf } from '../choices.ts';
import { workLead, workOrderPath } from '../work-words.ts';

export interface PhotoForm {
  readonly photoId: string;
  /** Empty for a photo of the vehicle as a whole. */
  readonly lineId: string;
  readonly purpose: string;
  /** Whether the cards to choose from are shown, instead of what the page proposes. */
  readonly choosing: boolean;
}

export interface PhotosPage {
  readonly frame: Frame & { readonly photoScript: string; readonly sendingScript: string };
  readonly photos: PhotosToTake;
  readonly form: PhotoForm;
  readonly problem: Problem | null;
  /** What was just kept, with what there is to say about it. */
  readonly kept: { readonly purpose: PhotoPurpose; readonly warning: string | null } | null;
  /** The line that was kept just now, which this photo is of. */
  readonly lineKept: {
    readonly id: string;
    readonly words: string;
    readonly measuredInches: Decimal | null;
    readonly priceMinor: bigint;
    readonly currency: string;
  } | null;
}

export function photosView({ frame, photos, form, problem, kept, lineKept }: PhotosPage): Html {
  const next = nextStep(photos);
  return fieldPage({
    ...frame,
    title: `Photos of WO-${photos.workOrder.number}`,
    heading: 'Photos',
    lead: workLead(photos.workOrder),
    current: null,
    scripts: [frame.photoScript, frame.assets.pictures, frame.sendingScript],
    body: html`
      ${lineKept && lineNotice(photos, lineKept)}
      ${kept && keptNotice(kept)}
      ${photos.open ? html`${photoForm(frame.csrfToken, photos, form, problem)}${stillNeeded(photos, next)}` : closed}
      ${strip(photos)}
      <p>${quietLink({ label: 'Back to the work order', href: workOrderPath(photos.workOrder) })}</p>`,
    primaryAction: photos.open ? fieldButton({ label: 'Keep the photo', form: 'photo' }) : fieldLink(next),
  });
}

const closed = notice(
  'info',
  'The evidence is closed',
  'What was accepted stays as it is; no photo is added any more.',
);

function lineNotice({ workOrder }: PhotosToTake, line: NonNullable<PhotosPage['lineKept']>): Html {
  const { id, words, measuredInches, priceMinor, currency } = line;
  const address = `${workOrderPath(workOrder)}/lines/${id}`;
  return notice(
    'done',
    `Line kept: ${words}, ${moneyText(priceMinor, currency)}`,
    html`<p>${measuredInches !== null && html`Measured ${formatDecimal(measuredInches)} in. `}<a href="${address}">Why this price</a></p>
      <p>${quietLink({ label: 'Change repair, size or price', href: `${address}?change=repair` })}</p>`,
  );
}

function keptNotice({ purpose, warning }: NonNullable<PhotosPage['kept']>): Html {
  return warning === null
    ? notice(
        'done',
        `Kept: ${photoPurposes[purpose]}`,
        'Look at it below before you move the vehicle or the lamp.',
      )
    : notice('problem', 'Kept, but look again', warning);
}

/** What comes after the photos. */
function nextStep({ workOrder }: PhotosToTake): { label: string; href: string } {
  const path = workOrderPath(workOrder);
  if (workOrder.state === 'approved') return { label: 'Go on to the start', href: `${path}/start` };
  if (workOrder.state === 'in_work') return { label: 'Go on to finishing', href: `${path}/finish` };
  if (workOrder.state === 'done') return { label: 'Go on to the acceptance', href: `${path}/acceptance` };
  return { label: 'Back to the work order', href: path };
}

type Needed = PhotosToTake['needed'];

/** Before work starts only what shows the damage is due; the rest is needed at the end. */
export function dueNow(photos: PhotosToTake): Needed {
  const { needed } = photos;
  return isWorked(photos)
    ? needed
    : needed.filter(({ purposes }) => purposes.some((each) => early.includes(each)));
}

function isWorked({ workOrder }: PhotosToTake): boolean {
  return workOrder.state === 'in_work' || workOrder.state === 'done';
}

const early: readonly PhotoPurpose[] = ['walk_around', 'before'];

function stillNeeded(photos: PhotosToTake, next: { label: string; href: string }): Html {
  const now = dueNow(photos);
  const later = photos.needed.filter((each) => !now.includes(each));
  return html`
    ${now.length === 0 && html`${notice('done', later.length === 0 ? 'Every photo that this account asks for is here' : 'Every photo for now is here')}<p>${quietLink(next)}</p>`}
    ${now.length > 0 && html`<h2>Still to take</h2>${neededList(photos, now)}`}
    ${later.length > 0 && html`<h2>Before you finish</h2>${neededList(photos, later)}`}`;
}

/** What can be seen only after the repair is no link before it. */
function neededList(photos: PhotosToTake, needed: Needed): Html {
  const path = `${workOrderPath(photos.workOrder)}/photos`;
  return html`<ul class="to-take">${needed.map(({ lineId, label, purposes }) => {
    const words = purposes.map((purpose) => photoPurposes[purpose]).join(' or ');
    if (purposes.includes('after') && !isWorked(photos)) return html`<li><b>${label}</b> ${words}</li>`;
    return html`<li><b>${label}</b> <a class="button" href="${path}?line_id=${lineId ?? ''}&amp;purpose=${purposes[0] ?? ''}">${words}</a></li>`;
  })}</ul>`;
}

const photoFields = ['photo', 'line_id', 'purpose'];

/** The file comes last: what it is of has to be read before it. */
function photoForm(csrfToken: string, photos: PhotosToTake, form: PhotoForm, problem: Problem | null): Html {
  const { errorOf, summary } = problemsOf(problem, photoFields);
  const path = `${workOrderPath(photos.workOrder)}/photos`;
  const preset = form.choosing ? null : presetWords(photos, form);
  return html`<form id="photo" method="post" enctype="multipart/form-data" action="${path}" data-sending="Sending…">
    ${errorSummary(summary)}
    ${hiddenCsrf(csrfToken)}
    ${hiddenField('photo_id', form.photoId)}
    ${preset === null ? choices(photos, form, errorOf) : presetFields(form, preset)}
    ${cameraField({
      name: 'photo',
      label: 'Photo',
      hint: 'Wipe the lens, mind the glare, hold still.',
      error: errorOf('photo'),
      required: true,
      sendsAtOnce: preset !== null,
    })}
    ${preset !== null && html`<p>${quietLink({ label: 'Take something else', href: `${path}?choose=yes` })}</p>`}
  </form>`;
}

/** What was chosen in words, as long as it is something that can be taken; else null. */
function presetWords({ lines }: PhotosToTake, { lineId, purpose }: PhotoForm): string | null {
  const line = lines.find(({ id }) => id === lineId);
  if (!isPurpose(purpose) || (lineId !== '' && line === undefined)) return null;
  const words = photoPurposes[purpose];
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}: ${line?.label ?? 'the whole vehicle'}`;
}

function isPurpose(text: string): text is PhotoPurpose {
  return Object.hasOwn(photoPurposes, text);
}

function presetFields({ lineId, purpose }: PhotoForm, words: string): Html {
  return html`<h2>${words}</h2>${hiddenField('purpose', purpose)}${hiddenField('line_id', lineId)}`;
}

function choices(
  photos: PhotosToTake,
  form: PhotoForm,
  errorOf: (field: string) => string | undefined,
): Html {
  return html`<h2>Take a photo</h2>
    ${hiddenField('choose', 'yes')}
    ${radioCards({
      name: 'purpose',
      label: 'What does it show?',
      value: form.purpose,
      required: true,
      error: errorOf('purpose'),
      choices: choicesOf(photoPurposes).filter(({ value }) => value !== 'after' || isWorked(photos)),
    })}
    ${radioCards({
      name: 'line_id',
      label: 'Of which part?',
      value: form.lineId,
      error: errorOf('line_id'),
      choices: [
        ...photos.lines.map(({ id, label }) => ({ value: id, label })),
        { value: '', label: 'The whole vehicle' },
      ],
    })}`;
}

function strip({ photos, lines }: PhotosToTake): Html {
  if (photos.length === 0) return html`<h2>No photo kept yet</h2>`;
  const heading = photos.length === 1 ? '1 photo kept' : `${photos.length} photos kept`;
  return html`<h2>${heading}</h2>${pictureRow(photos.toReversed().map((photo) => keptPicture(photo, lines)))}`;
}

function keptPicture(photo: PhotosToTake['photos'][number], lines: PhotosToTake['lines']): Picture {
  const purpose = photoPurposes[photo.purpose];
  const line = lines.find(({ id }) => id === photo.lineId);
  const shows = photo.lineId === null ? 'the vehicle' : (line?.label ?? 'a line that is not done');
  return {
    src: `/photos/${photo.id}/thumb`,
    ready: photo.ready,
    alt: `${purpose}: ${shows}`,
    caption: photo.lineId === null || line !== undefined ? purpose : `${purpose} of ${shows}`,
    href: `/photos/${photo.id}/original`,
  };
}
