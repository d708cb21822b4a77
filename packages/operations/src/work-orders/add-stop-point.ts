import {
  findStopPoint,
  insertStopPoint,
  insertWorkOrderStep,
  listShownPhotos,
  type StopPointRow,
  type WorkOrderRow,
} from '@grainwright/db';
import {
  type LineId,
  ok,
  overstatement,
  type PhotoId,
  type Result,
  refuse,
  type StopPointId,
  type WorkOrderId,
  workOrderStates,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { readWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { openWorkOrder } from '../work-order-path.ts';

export interface AddStopPointInput {
  /** Made by the client: the same stop point sent again under it is the same one. */
  readonly id: StopPointId;
  readonly workOrderId: WorkOrderId;
  readonly lineId: LineId;
  /** A picture of that line, taken as a stop point. */
  readonly photoId: PhotoId;
  readonly note: string;
  /** Whether the account and the vehicle’s owner see it, and the owner signs for it. */
  readonly shown: boolean;
}

/**
 * Puts on record where a technician stopped on purpose, with a picture. Refuses with `photo_missing` (no such picture of
 * this line), `wrong_state` (before work and after its acceptance), `invalid_input`, `id_reused` or `not_found`.
 */
export function addStopPoint(
  services: Services,
  actor: Actor,
  input: AddStopPointInput,
): Promise<Result<{ readonly id: StopPointId }>> {
  return performAsStaff(services, actor, 'start_work', async (scope) => {
    const note = readNote(input.note);
    if (!note.ok) return note;
    const opened = await openWorkOrder(scope, input.workOrderId);
    if (!opened.ok) return opened;
    const { id, workOrderId, lineId, photoId, shown } = input;
    const said = { workOrderId, lineId, photoId, note: note.value, shown };
    const earlier = await findStopPoint(scope.tx, id);
    if (earlier !== null) return sameContent(earlier, said) ? ok({ id }) : reusedId();
    const fits = await checkPicture(scope, opened.value, input);
    if (!fits.ok) return fits;
    const row = { id, ...said, madeBy: scope.actor.personId, madeAt: scope.now };
    return (await write(scope, opened.value, row)) ? ok({ id }) : reusedId();
  });
}

function readNote(text: string): Result<string> {
  const note = readWords(text, 'note', 'where you stopped and why', 500);
  if (!note.ok) return note;
  const promise = overstatement(note.value);
  return promise === null
    ? note
    : refuse(
        'invalid_input',
        `Do not write “${promise}”. Say in plain words where you stopped and why.`,
        'note',
      );
}

async function checkPicture(
  scope: Scope,
  { id, state }: WorkOrderRow,
  { lineId, photoId }: AddStopPointInput,
): Promise<Result<true>> {
  if (!['in_work', 'done'].includes(state))
    return refuse(
      'wrong_state',
      `This work order is “${workOrderStates[state]}”: a stop point is written down while it is worked on.`,
    );
  const photo = (await listShownPhotos(scope.tx, id)).find((each) => each.id === photoId);
  if (photo !== undefined && photo.lineId === lineId && photo.purpose === 'stop_point') return ok(true);
  return refuse(
    'photo_missing',
    'Take a picture of where you stopped first, and choose it here.',
    'photo_id',
  );
}

async function write(
  scope: Scope,
  { id, state }: WorkOrderRow,
  row: Omit<StopPointRow, 'tenantId'>,
): Promise<boolean> {
  if (!(await insertStopPoint(scope.tx, row))) return false;
  const { lineId, photoId, note, shown } = row;
  const detail = { line_id: lineId, photo_id: photoId, note, shown };
  await record(scope, 'stop_point_added', { kind: 'work_order', id }, detail);
  if (shown)
    await insertWorkOrderStep(scope.tx, {
      id: scope.newId(),
      workOrderId: id,
      event: 'stop_point',
      toState: state,
      personId: scope.actor.personId,
      happenedAt: scope.now,
      note,
    });
  return true;
}

function reusedId() {
  return refuse(
    'id_reused',
    'This id was already used for another stop point. Send it under a new id.',
    'id',
  );
}
