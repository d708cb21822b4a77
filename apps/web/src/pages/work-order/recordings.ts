import type { WorkOrderView } from '@grainwright/operations';
import { deletionWords } from '@grainwright/operations/phone';
import { instantShown } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';

type Recording = WorkOrderView['recordings'][number];

interface Reader {
  readonly timeZone: string;
  /** Staff open every recording, others those that say nothing of where they were made. */
  readonly isStaff: boolean;
}

/** The recordings of a work order, to be played in the page; null where there are none. */
export function recordingsOf(recordings: readonly Recording[], reader: Reader): Html | null {
  if (recordings.length === 0) return null;
  return html`${recordings.map((each) => recordingOf(each, reader))}`;
}

function recordingOf(recording: Recording, reader: Reader): Html {
  return recording.deletion === null ? kept(recording, reader) : gone(recording, recording.deletion, reader);
}

/** What is left of one that a rule let go of. */
function gone(
  recording: Recording,
  deletion: NonNullable<Recording['deletion']>,
  { timeZone }: Reader,
): Html {
  const { sha256, capturedAt, receivedAt } = recording;
  return html`<figure class="recording">
    <div class="no-picture no-picture--gone">The recording was ${deletionWords('recordings', deletion)}. Its digest: ${sha256}</div>
    <figcaption><b>Walk around the vehicle</b>, ${lengthOf(recording)}recorded ${instantShown(capturedAt ?? receivedAt, timeZone)}.</figcaption>
  </figure>`;
}

function kept(recording: Recording, { timeZone, isStaff }: Reader): Html {
  const { id, namesPlace, hasPoster, sha256, capturedAt, receivedAt } = recording;
  const film = `/recordings/${id}/film`;
  const poster = `/recordings/${id}/poster`;
  const opens = isStaff || !namesPlace;
  return html`<figure class="recording">
    ${opens && playing(film, hasPoster ? poster : null)}
    ${!opens && hasPoster && html`<img src="${poster}" alt="A picture of the walk-around recording" loading="lazy">`}
    <figcaption><b>Walk around the vehicle</b>, ${lengthOf(recording)}recorded ${instantShown(capturedAt ?? receivedAt, timeZone)}.
      ${opens && html`<a href="${film}" download>Save the recording</a> if it does not play here.`}
      ${namesPlace && html`<span>${isStaff ? 'It says where it was recorded: the account gets its picture and digest, not the file.' : 'The file says where it was recorded, so the business keeps it; ask them to see it.'}</span>`}
      <span class="digest">SHA-256 ${sha256}</span></figcaption>
  </figure>`;
}

function playing(film: string, poster: string | null): Html {
  return poster === null
    ? html`<video controls preload="metadata" playsinline src="${film}" aria-label="Walk around the vehicle"></video>`
    : html`<video controls preload="none" playsinline poster="${poster}" src="${film}" aria-label="Walk around the vehicle"></video>`;
}

function lengthOf({ seconds, bytes }: Recording): string {
  const megabytes = `${(Number(bytes) / 1_000_000).toFixed(1)} MB`;
  if (seconds === null) return `${megabytes}, `;
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')} minutes, ${megabytes}, `;
}
