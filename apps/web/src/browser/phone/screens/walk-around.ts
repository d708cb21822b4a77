import { isUuid } from '@grainwright/domain';
import { walkAroundView } from '../../../pages/field/walk-around/view.ts';
import type { KeptAction } from '../action.ts';
import { momentHere } from '../moment-here.ts';
import { newId } from '../new-id.ts';
import type { PhoneWork } from '../projection.ts';
import { nameOf } from '../sender.ts';
import { photosToTake } from './photos.ts';
import { type Here, keep, madeThen, orderPath, type Screen, type Shown, workOf } from './screen.ts';
import { notHere } from './work-order.ts';

/** A recording of the walk around the vehicle: by its own module, which keeps it piece by piece, or a file of the phone. */
export const walkAroundScreen: Screen = {
  path: /^\/field\/work-orders\/([0-9a-f-]{36})\/walk-around\/?$/,
  get: (here, [id]) => {
    const work = workOf(here, id);
    return work === null ? notHere(here) : shown(here, work, null);
  },
  post: async (here, form, [id = '']) => {
    const work = workOf(here, id);
    const again = (trouble: string) => (work === null ? notHere(here) : shown(here, work, trouble));
    const file = here.files.get('recording');
    if (file === undefined || file.size === 0)
      return again('Record the walk around the vehicle, or choose a recording.');
    const recordingId = isUuid(form.text('recording_id')) ? form.text('recording_id') : newId();
    const body = { captured_at: momentHere(new Date(file.lastModified)) };
    const trouble = await keep(here, { ...madeThen(here, id, recordingId), kind: 'recording', body }, file);
    if (trouble !== null) return again(trouble);
    return { goTo: work === null ? '/field/phone/waiting' : `${orderPath(work)}/photos` };
  },
};

function shown({ frame, owner, query, actions, day }: Here, work: PhoneWork, trouble: string | null): Shown {
  const problem =
    trouble === null ? null : ({ code: 'unavailable', detail: trouble, field: 'recording' } as const);
  const isKept = query.get('kept') === 'yes';
  const page = {
    frame,
    owner: nameOf(owner),
    photos: photosToTake(work, []),
    recordingId: newId(),
    problem,
    isKept,
    waiting: actions.flatMap((kept) => waitingWords(work, kept, day.snapshot.business.timeZone)),
  };
  return { page: walkAroundView(page) };
}

/** A recording that waits on this phone, in words. */
function waitingWords(
  { id }: PhoneWork,
  { action, state, file }: KeptAction,
  timeZone: string,
): readonly string[] {
  if (action.kind !== 'recording' || action.workOrderId !== id || state !== 'waiting') return [];
  const at = new Date(action.madeAt).toLocaleTimeString('en-US', { timeStyle: 'short', timeZone });
  const megabytes = ((file?.bytes ?? 0) / 1_000_000).toFixed(1);
  return [`Recorded at ${at}, ${megabytes} MB: kept on this phone, to be played once it is sent`];
}
