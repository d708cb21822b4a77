import type { LeftOver } from '../phone/left-over.ts';

/** Marks a recording as being made in this window. Answers with how to end that; the end of the window ends it too. */
export function holdRecording(id: string): () => void {
  let letGo = () => {};
  const held = new Promise<void>((resolve) => {
    letGo = resolve;
  });
  void navigator.locks.request(lockOf(id), () => held);
  return letGo;
}

/** Those that were cut off, and not those that another window records just now. */
export async function notRecordedNow(lefts: readonly LeftOver[]): Promise<readonly LeftOver[]> {
  const { held = [] } = await navigator.locks.query();
  return lefts.filter(({ id }) => !held.some(({ name }) => name === lockOf(id)));
}

function lockOf(id: string): string {
  return `grainwright-recording-${id}`;
}
