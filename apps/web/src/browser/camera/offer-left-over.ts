import type { Keeping } from './keeping.ts';
import { type LeftOver, writeLeftOver } from './left-over.ts';
import { keepRecording } from './recording-parts.ts';

interface Offer {
  readonly keeping: Keeping;
  readonly left: LeftOver;
  readonly say: (words: string) => void;
}

/** A recording that was cut off: what there is of it can be kept, or thrown away; by itself neither happens. */
export function offerLeftOver(recorder: HTMLElement, { keeping, left, say }: Offer): void {
  const box = recorder.querySelector<HTMLElement>('[data-left-over]');
  const words = box?.querySelector('[data-left-over-says]');
  const keep = box?.querySelector<HTMLButtonElement>('[data-left-over-keep]');
  const drop = box?.querySelector<HTMLButtonElement>('[data-left-over-drop]');
  if (!box || !words || !keep || !drop) return;
  const at = new Date(left.startedAt).toLocaleTimeString('en-US', { timeStyle: 'short' });
  words.textContent = `A recording that began at ${at} was cut off after ${left.seconds ?? 0} seconds. Keep what there is?`;
  box.hidden = false;
  keep.addEventListener('click', async () => {
    box.hidden = true;
    await keepRecording(keeping, left, say);
  });
  drop.addEventListener('click', async () => {
    box.hidden = true;
    await keeping.store.dropFile(left.id);
    writeLeftOver(keeping.store.owner, null);
    say('Thrown away.');
  });
}
