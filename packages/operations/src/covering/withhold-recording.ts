import {
  findRecording,
  findShownDeletion,
  findWorkOrder,
  insertWithholding,
  listWithholdings,
  type ShownDeletion,
  type WithholdingRow,
} from '@grainwright/db';
import {
  type CoveringId,
  ok,
  type RecordingId,
  type Result,
  refuse,
  type WorkOrderId,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { readWords } from '../read-input.ts';
import type { Services } from '../services.ts';
import { openWorkOrder } from '../work-order-path.ts';

export interface WithholdRecordingInput {
  /** Made by the client: the same again under it counts once. */
  readonly id: CoveringId;
  readonly recordingId: RecordingId;
  readonly reason: string;
}

/**
 * Keeps a recording as a whole from the account, which sees no more that there is one. Refuses with `not_found`,
 * `invalid_input`, `wrong_state` or `id_reused`.
 */
export function withholdRecording(
  services: Services,
  actor: Actor,
  input: WithholdRecordingInput,
): Promise<Result<CoveringId>> {
  return performAsStaff(services, actor, 'cover_photos', (scope) => turn(scope, input, true));
}

/** Lets the account see it again. Refuses as `withholdRecording` does. */
export function showRecording(
  services: Services,
  actor: Actor,
  input: WithholdRecordingInput,
): Promise<Result<CoveringId>> {
  return performAsStaff(services, actor, 'uncover_photos', (scope) => turn(scope, input, false));
}

async function turn(
  scope: Scope,
  { id, recordingId, reason }: WithholdRecordingInput,
  withheld: boolean,
): Promise<Result<CoveringId>> {
  const { tx, now, actor } = scope;
  const recording = await findRecording(tx, recordingId);
  if (recording === null) return refuse('not_found', 'There is no such recording.');
  const workOrder = await openWorkOrder(scope, recording.workOrderId);
  if (!workOrder.ok) return workOrder;
  const words = readWords(reason, 'reason', 'why', 500);
  if (!words.ok) return words;
  const rows = await listWithholdings(tx, recordingId);
  const earlier = rows.find((row) => row.id === id);
  if (earlier !== undefined) return isSame(earlier, withheld, words.value) ? ok(id) : reusedId;
  const [last] = rows;
  if ((last?.withheld ?? false) === withheld)
    return refuse(
      'wrong_state',
      withheld
        ? 'The account does not see this recording as it is.'
        : 'The account sees this recording as it is.',
    );
  const number = (last?.number ?? 0) + 1;
  const row = { id, recordingId, number, withheld, reason: words.value, madeBy: actor.personId, madeAt: now };
  if (!(await insertWithholding(tx, row))) return reusedId;
  await record(
    scope,
    withheld ? 'recording_withheld' : 'recording_shown_again',
    { kind: 'recording', id: recordingId },
    { work_order_id: recording.workOrderId, reason: words.value },
  );
  return ok(id);
}

function isSame(earlier: WithholdingRow, withheld: boolean, reason: string): boolean {
  return earlier.withheld === withheld && earlier.reason === reason;
}

const reusedId = refuse('id_reused', 'This id was already used. Open the page again.', 'id');

export interface WithholdingView {
  readonly recordingId: RecordingId;
  readonly workOrderId: WorkOrderId;
  readonly number: bigint;
  /** Whether the account sees it; the newest turn first. */
  readonly isWithheld: boolean;
  readonly turns: readonly WithholdingRow[];
  readonly sha256: string;
  /** What let its bytes go, and when; null while they are kept. */
  readonly deletion: ShownDeletion | null;
}

/** A recording with what became of its being shown, for the staff. Refuses with `not_found`. */
export function readWithholding(
  services: Services,
  actor: Actor,
  recordingId: RecordingId,
): Promise<Result<WithholdingView>> {
  return performAsStaff(services, actor, 'see_work_orders', async ({ tx }) => {
    const recording = await findRecording(tx, recordingId);
    const about = recording === null ? null : await findWorkOrder(tx, recording.workOrderId);
    if (recording === null || about === null) return refuse('not_found', 'There is no such recording.');
    const turns = await listWithholdings(tx, recordingId);
    const { id: workOrderId, number } = about.workOrder;
    const deletion = await findShownDeletion(tx, 'recordings', recordingId);
    const isWithheld = turns[0]?.withheld ?? false;
    const { sha256 } = recording;
    return ok({ recordingId, workOrderId, number, isWithheld, turns, sha256, deletion });
  });
}
