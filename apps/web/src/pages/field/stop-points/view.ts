import type { Problem } from '@grainwright/domain';
import type { WorkOrderView } from '@grainwright/operations';
import { fieldButton, fieldLink, quietLink } from '../../../look/buttons.ts';
import {
  checkboxField,
  errorSummary,
  hiddenCsrf,
  hiddenField,
  radioCards,
  textArea,
} from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { storySections } from '../../work-order/story-parts.ts';

export interface TypedStopPoint {
  readonly id: string;
  readonly photoId: string;
  readonly note: string;
  readonly shown: boolean;
}

export interface StopPointsPage {
  readonly frame: Frame;
  readonly view: WorkOrderView;
  readonly typed: TypedStopPoint;
  readonly problem: Problem | null;
}

/** Pictures taken as a stop point that no note tells of yet, the newest first. */
export function picturesToTell({ photos, stopPoints }: WorkOrderView): WorkOrderView['photos'] {
  return photos
    .filter((photo) => photo.purpose === 'stop_point' && photo.lineId !== null)
    .filter((photo) => !stopPoints.some(({ photoId }) => photoId === photo.id))
    .toReversed();
}

/** Where more would have made it worse: a picture first, then the words. */
export function stopPointsView({ frame, view, typed, problem }: StopPointsPage): Html {
  const path = `/field/work-orders/${view.id}`;
  const pictures = picturesToTell(view);
  const open = view.state === 'in_work' || view.state === 'done';
  const takePicture = { label: 'Take the picture', href: `${path}/photos?purpose=stop_point` };
  return fieldPage({
    ...frame,
    title: `Stop points of ${workOrderNumber(view.number)}`,
    heading: 'Where did you stop on purpose?',
    lead: `${workOrderNumber(view.number)} · ${view.vehicle.description}`,
    current: null,
    scripts: [frame.assets.sending],
    body: html`
      ${!open && notice('info', 'Not now', 'A stop point is written down while the vehicle is worked on, before it is accepted.')}
      ${open && pictures.length === 0 && notice('info', 'A picture first', 'Take a picture of where you stopped, from as near as shows it.')}
      ${open && pictures.length > 0 && noteForm({ frame, view, typed, problem })}
      ${storySections({ ...view, keyTests: [], notSigned: [] }, frame.me.business.timeZone)}
      ${open && pictures.length > 0 && html`<p>${quietLink({ ...takePicture, label: 'Take another picture' })}</p>`}
      <p>${quietLink({ label: 'Back to the work order', href: path })}</p>`,
    primaryAction: !open
      ? fieldLink({ label: 'Back to the work order', href: path })
      : pictures.length === 0
        ? fieldLink(takePicture)
        : fieldButton({ label: 'Keep the stop point', form: 'stop-point' }),
  });
}

function noteForm({ frame, view, typed, problem }: StopPointsPage): Html {
  const { summary, errorOf } = problemsOf(problem, ['photo_id', 'note']);
  const pictures = picturesToTell(view);
  const words = (lineId: string | null) => view.lines.find((line) => line.id === lineId)?.words ?? '';
  return html`<form method="post" action="/field/work-orders/${view.id}/stop-points" id="stop-point" data-sending="Keeping…">
    ${errorSummary(summary)}
    ${hiddenCsrf(frame.csrfToken)}${hiddenField('id', typed.id)}
    ${radioCards({
      name: 'photo_id',
      label: 'Which picture shows it?',
      value: typed.photoId === '' ? pictures[0]?.id : typed.photoId,
      required: true,
      error: errorOf('photo_id'),
      choices: pictures.map((photo) => ({
        value: photo.id,
        label: words(photo.lineId),
        detail: html`<img src="/photos/${photo.id}/${photo.ready || photo.coveredOn !== null ? 'thumb' : 'original'}" alt="stop point: ${words(photo.lineId)}" loading="lazy" decoding="async">`,
      })),
    })}
    ${textArea({ name: 'note', label: 'Where and why', hint: 'E.g. a faint edge in low sun along the lower seam; more would widen it', value: typed.note, error: errorOf('note'), required: true, rows: 3, maxLength: 500 })}
    ${checkboxField({ name: 'shown', label: 'Show it to the account and to the owner, who signs for it', checked: typed.shown })}
  </form>`;
}
