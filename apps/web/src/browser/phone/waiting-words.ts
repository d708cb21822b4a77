import type { ActionKind, KeptAction } from './action.ts';

/** What waits, in words: “3 photos and 2 other things”; empty where nothing does. */
export function waitingWords(actions: readonly KeptAction[]): string {
  const waiting = actions.filter(({ state }) => state === 'waiting');
  const photos = waiting.filter(({ action }) => action.kind === 'photo').length;
  const recordings = waiting.filter(({ action }) => action.kind === 'recording').length;
  const others = waiting.length - photos - recordings;
  const alone = photos + recordings === 0;
  const parts = [
    counted(photos, 'photo', 'photos'),
    counted(recordings, 'recording', 'recordings'),
    counted(others, alone ? 'thing' : 'other thing', alone ? 'things' : 'other things'),
  ].filter((part) => part !== '');
  return new Intl.ListFormat('en-US', { type: 'conjunction' }).format(parts);
}

function counted(count: number, one: string, several: string): string {
  return count === 0 ? '' : count === 1 ? `1 ${one}` : `${count} ${several}`;
}

/** What kind of thing was done, as a list of them says. */
export const kindWords = {
  write_up: 'Write-up',
  line: 'Line',
  photo: 'Photo',
  photo_reason: 'Why a photo is kept',
  recording: 'Walk-around recording',
  quote: 'Quote for a new part',
  estimate: 'Estimate',
  start: 'Start of work',
  finish: 'End of work',
  acceptance: 'Acceptance',
  missing_signature: 'Nobody signed',
} as const satisfies Record<ActionKind, string>;
