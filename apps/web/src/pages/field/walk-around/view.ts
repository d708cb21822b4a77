import { type Problem, walkAroundSecondsMost } from '@grainwright/domain';
import type { PhotosToTake } from '@grainwright/operations';
import { fieldButton, fieldLink, quietLink } from '../../../look/buttons.ts';
import { errorSummary, fileField, hiddenCsrf, hiddenField } from '../../../look/forms.ts';
import { attributes, type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { problemsOf } from '../../form-problems.ts';
import type { FieldFrame } from '../../person.ts';
import { recordingsOf } from '../../work-order/recordings.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { workLead, workOrderPath } from '../work-words.ts';

export interface WalkAroundPage {
  readonly frame: FieldFrame;
  /** Whose phone it is: what is recorded is kept there for them until it is sent. */
  readonly owner: string;
  readonly photos: PhotosToTake;
  readonly recordingId: string;
  readonly problem: Problem | null;
  readonly isKept: boolean;
  /** Recordings that only the phone has, in words. */
  readonly waiting: readonly string[];
}

export function walkAroundView(page: WalkAroundPage): Html {
  const { frame, photos, isKept } = page;
  const path = workOrderPath(photos.workOrder);
  const { timeZone } = frame.me.business;
  return fieldPage({
    ...frame,
    title: `Walk-around of ${workOrderNumber(photos.workOrder.number)}`,
    heading: 'Walk-around video',
    lead: workLead(photos.workOrder),
    current: null,
    scripts: [frame.assets.record, frame.assets.sending],
    body: html`
      ${isKept && notice('done', 'The recording is kept', 'Play it below before you touch the vehicle.')}
      ${photos.open ? html`${recorderPart(page)}${fileForm(page)}` : notice('info', 'The evidence is closed', 'What was accepted stays as it is; no recording is added any more.')}
      <div data-live="recordings">${page.waiting.length > 0 && html`<ul>${page.waiting.map((words) => html`<li>${words}</li>`)}</ul>`}${recordingsOf(photos.recordings, { timeZone, isStaff: true })}</div>
      <p>${quietLink({ label: 'Back to the photos', href: `${path}/photos` })}</p>`,
    primaryAction: photos.open
      ? html`${fieldButton({ label: 'Keep the recording', form: 'recording' })}<button type="button" class="field-button" data-record hidden>Start recording</button>`
      : fieldLink({ label: 'Back to the photos', href: `${path}/photos` }),
  });
}

/** Shown by its module, where the browser records. */
function recorderPart({ photos, owner }: WalkAroundPage): Html {
  return html`<section ${attributes({
    class: 'camera',
    'data-recorder': photos.workOrder.id,
    'data-owner': owner,
    hidden: true,
    'aria-label': 'Recorder',
  })}>
    <p>Walk once around the vehicle, then show the part. Up to ${walkAroundSecondsMost / 60} minutes, without sound.</p>
    <div class="viewfinder" hidden><video muted playsinline aria-label="What the camera sees"></video>
      <p class="recorded-time" data-recorded hidden></p></div>
    <p role="status" data-recorder-says></p>
    <div data-left-over hidden>
      <p data-left-over-says></p>
      <p><button type="button" class="button" data-left-over-keep>Keep what was recorded</button>
      <button type="button" class="button" data-left-over-drop>Throw it away</button></p>
    </div>
  </section>`;
}

function fileForm({ frame, photos, recordingId, problem }: WalkAroundPage): Html {
  const { errorOf, summary } = problemsOf(problem, ['recording']);
  return html`<form id="recording" method="post" enctype="multipart/form-data" action="${workOrderPath(photos.workOrder)}/walk-around" data-sending="Sending…">
    ${errorSummary(summary)}
    ${hiddenCsrf(frame.csrfToken)}
    ${hiddenField('recording_id', recordingId)}
    ${fileField({
      name: 'recording',
      label: 'Recording',
      hint: 'One that the phone’s camera made: MP4, MOV or WebM.',
      accept: 'video/*',
      error: errorOf('recording'),
      required: true,
    })}
  </form>`;
}
