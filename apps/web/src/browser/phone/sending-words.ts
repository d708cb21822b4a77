import type { KeptAction } from './action.ts';
import { nextToSend } from './needs.ts';

/** Where a picture or recording stands, beside it on the page on which it was made. */
export function sendingWords(
  kept: KeptAction,
  { actions, online }: { readonly actions: readonly KeptAction[]; readonly online: boolean },
): string {
  const { state, sentBytes, file, refusal } = kept;
  if (state === 'sent') return 'Sent.';
  if (state === 'conflict') return `Not taken: ${refusal?.detail ?? 'look at what waits on this phone.'}`;
  if (state === 'dropped') return 'Not sent; kept on this phone as a note.';
  // One after the other is sent: what was tried and did not come through keeps the others waiting, too.
  if (!online || actions.some((each) => each.state === 'waiting' && each.lastTry !== null))
    return 'Kept on this phone, waiting for signal.';
  if (nextToSend(actions)?.action.id !== kept.action.id) return 'Kept on this phone. It waits for its turn.';
  const part = file === null || sentBytes === 0 ? 0 : Math.floor((100 * sentBytes) / file.bytes);
  return part === 0 ? 'Kept on this phone. Sending…' : `Kept on this phone. Sending… ${part} %`;
}
