/**
 * Records a walk around the vehicle, up to two minutes and without sound. Every second is kept on the phone as it comes, so
 * that whatever ends the app takes at most that; then it is sent in parts. Without this module a recording of the phone's
 * own camera is chosen.
 */

import { recordingBitsPerSecond, walkAroundSecondsMost } from '@grainwright/domain';
import type { LeftOver } from '../phone/left-over.ts';
import { newId } from '../phone/new-id.ts';
import { type Keeping, openKeeping } from './keeping.ts';
import { holdRecording, notRecordedNow } from './live-recordings.ts';
import { offerLeftOvers } from './offer-left-over.ts';
import { takeOverPointer } from './pointer-of-before.ts';
import { posterOf } from './poster.ts';
import { keepRecording, sliceInto } from './recording-parts.ts';
import { takenAt } from './taken-at.ts';

const part = document.querySelector<HTMLElement>('[data-recorder]');
if (part) void begin(part);

async function begin(recorder: HTMLElement): Promise<void> {
  const workOrderId = recorder.dataset.recorder ?? '';
  const keeping = await openKeeping(recorder.dataset.owner ?? '');
  const says = recorder.querySelector('[data-recorder-says]');
  if (keeping === null || says === null) return;
  const say = (words: string) => {
    says.textContent = words;
  };
  recorder.hidden = false;
  const { store } = keeping;
  await takeOverPointer(store);
  await store.sweepParts();
  await offerLeftOvers(recorder, { keeping, lefts: await notRecordedNow(await store.listLeftOvers()), say });
  watchFile({ keeping, workOrderId, say });
  const type = recordedAs();
  if (type === null || navigator.mediaDevices?.getUserMedia === undefined) return;
  offerRecording(recorder, { keeping, workOrderId, say, type });
}

/** What every browser of today plays comes first. */
const types = [
  'video/mp4;codecs=avc1.42E01F',
  'video/mp4;codecs=avc1',
  'video/webm;codecs=vp8',
  'video/webm',
  'video/mp4',
];

function recordedAs(): string | null {
  if (!('MediaRecorder' in window)) return null;
  return types.find((each) => MediaRecorder.isTypeSupported(each)) ?? null;
}

interface Recording {
  readonly keeping: Keeping;
  readonly workOrderId: string;
  readonly say: (words: string) => void;
  readonly type: string;
}

function offerRecording(recorder: HTMLElement, recording: Recording): void {
  const button = document.querySelector<HTMLButtonElement>('[data-record]');
  const chosen = document.querySelector<HTMLButtonElement>('button[form="recording"]');
  const file = document.querySelector<HTMLInputElement>('form#recording input[type="file"]');
  if (!button || !chosen || !file) return;
  // The one step at the bottom is to record; once a file is chosen, to keep that.
  const show = () => {
    const hasFile = (file.files?.length ?? 0) > 0;
    button.hidden = hasFile;
    chosen.hidden = !hasFile;
  };
  file.addEventListener('change', show);
  show();
  let stop: (() => void) | null = null;
  button.addEventListener('click', async () => {
    if (stop !== null) return stop();
    button.disabled = true;
    stop = await start(recorder, recording, () => {
      stop = null;
      button.textContent = 'Start recording';
    });
    button.disabled = false;
    if (stop !== null) button.textContent = 'Stop and keep it';
    return undefined;
  });
}

/** Answers with how to stop it; null where no camera can be used. */
async function start(
  recorder: HTMLElement,
  { keeping, workOrderId, say, type }: Recording,
  ended: () => void,
): Promise<(() => void) | null> {
  const video = recorder.querySelector('video');
  let left: LeftOver = {
    id: newId(),
    workOrderId,
    startedAt: new Date().toISOString(),
    seconds: 0,
    poster: null,
  };
  const stream = await openCamera(say);
  if (!video || stream === null) return null;
  const letGo = holdRecording(left.id);
  try {
    await keeping.store.keepLeftOver(left);
  } catch (error) {
    letGo();
    for (const track of stream.getTracks()) track.stop();
    say(troubleOf(error));
    return null;
  }
  video.srcObject = stream;
  await video.play();
  showRecorder(recorder, true);
  const media = new MediaRecorder(stream, { mimeType: type, videoBitsPerSecond: recordingBitsPerSecond });
  const parts = inOrder(
    (place, blob) => keeping.store.keepPart(left.id, place, blob),
    () => stopOnce(),
  );
  media.addEventListener('dataavailable', ({ data }) => parts.add(data));
  const clock = showTime(recorder, (seconds) => {
    // What it takes to keep it, were the app ended now.
    if (seconds !== left.seconds || left.poster === null) {
      left = { ...left, seconds, poster: left.poster ?? posterOf(video) };
      void keeping.store.keepLeftOver(left).catch(() => undefined);
    }
    if (seconds >= walkAroundSecondsMost) stopOnce();
  });
  const stopOnce = () => {
    if (media.state !== 'inactive') media.stop();
  };
  stream.getVideoTracks()[0]?.addEventListener('ended', stopOnce);
  media.addEventListener('stop', async () => {
    clock.stop();
    for (const track of stream.getTracks()) track.stop();
    showRecorder(recorder, false);
    ended();
    const trouble = await parts.done();
    say(trouble ?? 'Kept on this phone. It is sent now, or as soon as there is signal.');
    if (trouble === null) await keepRecording(keeping, left, say);
    letGo();
  });
  media.start(1000);
  say('Recording. It stops by itself after two minutes.');
  return stopOnce;
}

async function openCamera(say: (words: string) => void): Promise<MediaStream | null> {
  try {
    return await navigator.mediaDevices.getUserMedia({
      audio: false,
      video: { facingMode: 'environment', width: { ideal: 1280 }, height: { ideal: 720 } },
    });
  } catch {
    say(
      'No camera can be used here. Allow it for this page in the browser’s settings, or choose a recording of the phone’s camera below.',
    );
    return null;
  }
}

function showRecorder(recorder: HTMLElement, isRecording: boolean): void {
  for (const each of recorder.querySelectorAll<HTMLElement>('.viewfinder, [data-recorded]'))
    each.hidden = !isRecording;
  const form = document.querySelector<HTMLElement>('form#recording');
  if (form) form.hidden = isRecording;
}

function showTime(recorder: HTMLElement, each: (seconds: number) => void): { readonly stop: () => void } {
  const shown = recorder.querySelector('[data-recorded]');
  const startedAt = performance.now();
  const two = (value: number) => String(value).padStart(2, '0');
  const words = (seconds: number) => `${Math.floor(seconds / 60)}:${two(seconds % 60)}`;
  const tell = (seconds: number) => {
    if (shown) shown.textContent = `Recording ${words(seconds)} of ${words(walkAroundSecondsMost)}`;
  };
  tell(0);
  const timer = setInterval(() => {
    const seconds = Math.floor((performance.now() - startedAt) / 1000);
    tell(Math.min(seconds, walkAroundSecondsMost));
    each(seconds);
  }, 500);
  return { stop: () => clearInterval(timer) };
}

/** Parts are kept one after the other. The first that can't be kept ends the recording. */
function inOrder(keep: (place: number, blob: Blob) => Promise<void>, fail: () => void) {
  let place = 0;
  let trouble: string | null = null;
  let last = Promise.resolve();
  return {
    add: (blob: Blob) => {
      if (blob.size === 0) return;
      const own = place;
      place += 1;
      last = last
        .then(() => (trouble === null ? keep(own, blob) : undefined))
        .catch((error: unknown) => {
          trouble = troubleOf(error);
          fail();
        });
    },
    done: async () => {
      await last;
      return trouble;
    },
  };
}

/** A file of the phone's camera goes the same way: kept first, in slices, then sent. */
function watchFile({ keeping, workOrderId, say }: Omit<Recording, 'type'>): void {
  const form = document.querySelector<HTMLFormElement>('form#recording');
  const input = form?.querySelector<HTMLInputElement>('input[type="file"]');
  document.addEventListener(
    'submit',
    (event) => {
      const file = input?.files?.[0];
      if (event.target !== form || file === undefined) return;
      event.preventDefault();
      event.stopImmediatePropagation();
      void keepFile(keeping, { file, workOrderId, say });
    },
    true,
  );
}

async function keepFile(
  keeping: Keeping,
  {
    file,
    workOrderId,
    say,
  }: { readonly file: File; readonly workOrderId: string; readonly say: (words: string) => void },
): Promise<void> {
  say('Keeping it on this phone…');
  const left: LeftOver = {
    id: newId(),
    workOrderId,
    startedAt: takenAt(file).toISOString(),
    seconds: null,
    poster: null,
  };
  const letGo = holdRecording(left.id);
  try {
    await keeping.store.keepLeftOver(left);
    await sliceInto(keeping, left.id, file);
    await keepRecording(keeping, left, say);
  } catch (error) {
    // The file is still where it was chosen; the parts of it would only fill the phone.
    await keeping.store.dropLeftOver(left.id).catch(() => undefined);
    say(troubleOf(error));
  }
  letGo();
}

function troubleOf(error: unknown): string {
  return error instanceof Error ? error.message : 'This phone could not keep the recording.';
}
