import type { LeftOver } from '../phone/left-over.ts';
import { keptLately, timeZoneIn } from '../phone/refresh-snapshot.ts';
import type { Keeping } from './keeping.ts';
import { keepRecording } from './recording-parts.ts';

interface Offer {
  readonly keeping: Keeping;
  readonly lefts: readonly LeftOver[];
  readonly say: (words: string) => void;
}

/** Recordings that were cut off: what there is of each can be kept, or thrown away; by itself neither happens. */
export async function offerLeftOvers(recorder: HTMLElement, { keeping, lefts, say }: Offer): Promise<void> {
  const box = recorder.querySelector<HTMLElement>('[data-left-over]');
  if (!box) return;
  const timeZone = timeZoneIn((await keptLately(keeping.store))?.snapshot);
  for (const left of lefts) {
    const own = box.cloneNode(true);
    if (!(own instanceof HTMLElement)) continue;
    box.before(own);
    offer(own, left, { keeping, say, timeZone });
  }
}

function offer(
  box: HTMLElement,
  left: LeftOver,
  { keeping, say, timeZone }: Omit<Offer, 'lefts'> & { readonly timeZone: string | undefined },
): void {
  const words = box.querySelector('[data-left-over-says]');
  const keep = box.querySelector<HTMLButtonElement>('[data-left-over-keep]');
  const drop = box.querySelector<HTMLButtonElement>('[data-left-over-drop]');
  if (!words || !keep || !drop) return;
  words.textContent = leftOverWords(left, timeZone);
  box.hidden = false;
  keep.addEventListener('click', async () => {
    box.hidden = true;
    try {
      await keepRecording(keeping, left, say);
    } catch (error) {
      box.hidden = false;
      say(error instanceof Error ? error.message : 'This phone could not keep the recording.');
    }
  });
  drop.addEventListener('click', async () => {
    box.hidden = true;
    await keeping.store.dropLeftOver(left.id);
    say('Thrown away.');
  });
}

function leftOverWords({ startedAt, seconds }: LeftOver, timeZone: string | undefined): string {
  const at = new Date(startedAt).toLocaleTimeString('en-US', { timeStyle: 'short', timeZone });
  return seconds === null
    ? `A chosen recording of ${at} was not kept to its end. Choose it again, or keep what there is.`
    : `A recording that began at ${at} was cut off after ${seconds} seconds. Keep what there is?`;
}
