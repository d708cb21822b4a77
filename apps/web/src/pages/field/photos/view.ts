import {
  type Decimal,
  formatDecimal,
  type PhotoPurpose,
  type Problem,
  photoPurposes,
} from '@grainwright/domain';
import type { PhotosToTake } from '@grainwright/operations';
import { fieldButton, fieldLink, quietLink } from '../../../look/buttons.ts';
import { moneyText } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import type { FieldFrame } from '../../person.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { workLead, workOrderPath } from '../work-words.ts';
import { cameraPart } from './camera-part.ts';
import { dueNow, isWorked, type Needed } from './due-now.ts';
import { keptPhotos, lookAgain } from './kept-photos.ts';
import { openWarned } from './open-warned.ts';
import { type PhotoForm, photoForm } from './photo-form.ts';

export interface PhotosPage {
  readonly frame: FieldFrame;
  /** Whose phone it is: what is taken is kept there for them until it is sent. */
  readonly owner: string;
  /** Makes the id of one more form. */
  readonly newId: () => string;
  readonly photos: PhotosToTake;
  readonly form: PhotoForm;
  readonly problem: Problem | null;
  /** The most bytes of a photo that are taken; the phone looks at it before it keeps one. */
  readonly bytesMax: number;
  /** How many recordings there are. */
  readonly recordingCount: number;
  /** What was just kept, with what there is to say about it. */
  readonly kept: {
    readonly id: string;
    readonly purpose: PhotoPurpose;
    readonly warnings: readonly string[];
  } | null;
  /** The line that was kept just now, which this photo is of. */
  readonly lineKept: {
    readonly id: string;
    readonly words: string;
    readonly measuredInches: Decimal | null;
    readonly priceMinor: bigint;
    readonly currency: string;
  } | null;
}

export function photosView(page: PhotosPage): Html {
  const { frame, owner, photos, form, problem, kept, lineKept, newId, bytesMax } = page;
  const next = nextStep(photos);
  const open = openWarned(photos);
  const asked = open.find(({ id }) => id === kept?.id) ?? null;
  return fieldPage({
    ...frame,
    title: `Photos of ${workOrderNumber(photos.workOrder.number)}`,
    heading: 'Photos',
    lead: workLead(photos.workOrder),
    current: null,
    scripts: [frame.assets.photo, frame.assets.camera, frame.assets.pictures, frame.assets.sending],
    body: html`
      ${lineKept && lineNotice(photos, lineKept)}
      <div data-live="just-kept">${asked ? askedNotice(page, asked) : kept && keptNotice(kept)}</div>
      ${photos.open ? html`${cameraPart({ photos, owner })}${photoForm({ csrfToken: frame.csrfToken, photos, form, problem, bytesMax })}${stillNeeded(photos, next, open.length)}` : closed}
      ${photos.open && walkAround(photos, page.recordingCount)}
      ${keptPhotos({ photos, csrfToken: frame.csrfToken, timeZone: frame.me.business.timeZone, newId, askedAbove: asked?.id ?? null })}
      <p>${quietLink({ label: 'Back to the work order', href: workOrderPath(photos.workOrder) })}</p>`,
    primaryAction: photos.open
      ? html`${fieldButton({ label: form.retakeOf === '' ? 'Keep the photo' : 'Keep the new photo', form: 'photo' })}<button type="button" class="field-button" data-shutter hidden>Take the photo</button>`
      : fieldLink(next),
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

function keptNotice({ purpose, warnings }: NonNullable<PhotosPage['kept']>): Html {
  const heading = `Kept: ${photoPurposes[purpose]}`;
  return warnings.length === 0
    ? notice('done', heading, 'Look at it below before you move the vehicle or the lamp.')
    : notice('done', heading, 'What was said against it has its answer below.');
}

/** What was just taken may not do: both answers stand right here. */
function askedNotice({ photos, frame, newId }: PhotosPage, each: PhotosToTake['warned'][number]): Html {
  const heading = (words: string) => html`<p><b>${words}</b></p>`;
  return notice(
    'problem',
    'Kept, but look again',
    lookAgain({ photos, csrfToken: frame.csrfToken, newId, each, heading }),
  );
}

/** One recording shows more of the vehicle than pictures can. */
function walkAround({ workOrder }: PhotosToTake, count: number): Html {
  return html`<h2>Walk-around video</h2>
    ${count > 0 && html`<p>${count === 1 ? '1 recording kept' : `${count} recordings kept`}.</p>`}
    <p>${quietLink({ label: count === 0 ? 'Record a walk around the vehicle' : 'Recordings', href: `${workOrderPath(workOrder)}/walk-around` })}</p>`;
}

/** What comes after the photos. */
function nextStep({ workOrder }: PhotosToTake): { label: string; href: string } {
  const path = workOrderPath(workOrder);
  if (workOrder.state === 'approved') return { label: 'Go on to the start', href: `${path}/start` };
  if (workOrder.state === 'in_work') return { label: 'Go on to finishing', href: `${path}/finish` };
  if (workOrder.state === 'done') return { label: 'Go on to the acceptance', href: `${path}/acceptance` };
  return { label: 'Back to the work order', href: path };
}

/** While something is said against a photo and has no answer, nothing leads on. */
function stillNeeded(photos: PhotosToTake, next: { label: string; href: string }, openCount: number): Html {
  const now = dueNow(photos);
  const later = photos.needed.filter((each) => !now.includes(each));
  const all =
    later.length === 0 ? 'Every photo that this account asks for is here' : 'Every photo for now is here';
  const goOn = now.length === 0 && openCount === 0;
  return html`<div data-live="needed">
    ${goOn && html`${notice('done', all)}<p>${quietLink(next)}</p>`}
    ${now.length === 0 && openCount > 0 && html`<p>${openCount === 1 ? 'One photo still wants' : `${openCount} photos still want`} an answer: take it again, or say why it stays.</p>`}
    ${now.length > 0 && html`<h2>Still to take</h2>${neededList(photos, now)}`}
    ${later.length > 0 && html`<h2>Before you finish</h2>${neededList(photos, later)}`}
  </div>`;
}

/** What can be seen only after the repair is no link before it. */
function neededList(photos: PhotosToTake, needed: Needed): Html {
  const path = `${workOrderPath(photos.workOrder)}/photos`;
  return html`<ul class="to-take">${needed.map(({ lineId, label, purposes }) => {
    const words = purposes.map((purpose) => photoPurposes[purpose]).join(' or ');
    if (purposes.includes('after') && !isWorked(photos)) return html`<li><b>${label}</b> ${words}</li>`;
    return html`<li><b>${label}</b> ${purposes.map((purpose, index) => html`${index > 0 && ' or '}<a class="button" href="${path}?line_id=${lineId ?? ''}&amp;purpose=${purpose}">${photoPurposes[purpose]}</a>`)}</li>`;
  })}</ul>`;
}
