import type { LeftOver } from '../phone/left-over.ts';
import { momentHere } from '../phone/moment-here.ts';
import { sendingWords } from '../phone/sending-words.ts';
import type { Keeping } from './keeping.ts';

/** Small enough to be written while the next one is read. */
const sliceBytes = 4_000_000;

/** Keeps a file in slices: a recording is too large to be held at once. */
export async function sliceInto(keeping: Keeping, fileId: string, file: File): Promise<void> {
  for (let at = 0; at < file.size; at += sliceBytes)
    await keeping.store.keepPart(fileId, at / sliceBytes, file.slice(at, at + sliceBytes, file.type));
}

/** Makes an action of the parts that are kept; the page shows the recording when the server has it. */
export async function keepRecording(
  keeping: Keeping,
  { id, workOrderId, startedAt, seconds, poster }: LeftOver,
  say: (words: string) => void,
): Promise<void> {
  await keeping.keep({
    id,
    workOrderId,
    madeAt: momentHere(new Date()),
    kind: 'recording',
    body: {
      captured_at: momentHere(new Date(startedAt)),
      ...(seconds === null ? {} : { seconds }),
      ...(poster === null ? {} : { poster }),
    },
  });
  await keeping.store.dropLeftOver(id);
  say('Kept on this phone. It is sent now, or as soon as there is signal.');
  tellProgress(keeping, id, { workOrderId, say });
}

function tellProgress(
  keeping: Keeping,
  id: string,
  { workOrderId, say }: { readonly workOrderId: string; readonly say: (words: string) => void },
): void {
  const stop = keeping.store.onChange(async () => {
    const actions = await keeping.store.listActions();
    const kept = actions.find(({ action }) => action.id === id);
    if (kept === undefined) return;
    if (kept.state === 'sent') {
      stop();
      location.assign(`/field/work-orders/${workOrderId}/walk-around?kept=yes`);
    } else say(sendingWords(kept, { actions, online: navigator.onLine }));
  });
}
