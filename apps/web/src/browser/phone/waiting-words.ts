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

/** What somebody is asked who signs out with something unsent; empty where nothing is. */
export function signOutWords(actions: readonly KeptAction[], forms: number): string {
  const waiting = waitingWords(actions);
  const refused = actions.filter(({ state }) => state === 'conflict').length;
  const parts = [
    waiting === '' ? '' : `${waiting} not sent yet`,
    refused === 0 ? '' : `${counted(refused, 'thing', 'things')} that the office did not take`,
    forms === 0 ? '' : `${counted(forms, 'form', 'forms')} that did not come through`,
  ].filter((part) => part !== '');
  if (parts.length === 0) return '';
  return `${parts.join(', ')}. They stay on this phone for you, and are sent or decided when you sign in on it again. Sign out?`;
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
