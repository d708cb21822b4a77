import {
  findKeyTest,
  insertKeyTest,
  insertWorkOrderStep,
  type KeyTestRow,
  listWorkOrderLines,
  type WorkOrderRow,
} from '@grainwright/db';
import {
  checkKeySheet,
  isKeyRemote,
  type KeyResult,
  type KeySheet,
  type KeyStep,
  type KeyTestId,
  type KeyVerdict,
  keyResults,
  keySteps,
  keyVerdict,
  type LineId,
  ok,
  type Result,
  refuse,
  type WorkOrderId,
  workOrderStates,
} from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { openWorkOrder } from '../work-order-path.ts';
import { lineFacts } from './line-facts.ts';
import { readOptionalChoice } from './read-choice.ts';

export interface RecordKeyTestInput {
  /** Of the sheet, made by the client: the same one sent again under it counts once. */
  readonly id: KeyTestId;
  readonly workOrderId: WorkOrderId;
  readonly lineId: LineId;
  /** `pass`, `fail` or `not_fitted`; empty where it was not tested. */
  readonly steps: Readonly<Record<KeyStep, string>>;
}

/**
 * Writes down how a key remote did in its tests, in their order. Of several sheets the newest counts; its case is sold
 * only once every test passes. Refuses with `invalid_input`, `wrong_state`, `id_reused` or `not_found`.
 */
export function recordKeyTest(
  services: Services,
  actor: Actor,
  input: RecordKeyTestInput,
): Promise<Result<{ readonly verdict: KeyVerdict }>> {
  return performAsStaff(services, actor, 'write_up', async (scope) => {
    const sheet = readSheet(input.steps);
    if (!sheet.ok) return sheet;
    const opened = await openWorkOrder(scope, input.workOrderId);
    if (!opened.ok) return opened;
    const said = { workOrderId: input.workOrderId, lineId: input.lineId, ...sheet.value };
    const earlier = await findKeyTest(scope.tx, input.id);
    const verdict = keyVerdict(sheet.value);
    if (earlier !== null) return sameContent(earlier, said) ? ok({ verdict }) : reusedId();
    const line = await checkLine(scope, opened.value, input.lineId);
    if (!line.ok) return line;
    const row = { id: input.id, ...said, testedBy: scope.actor.personId, testedAt: scope.now };
    return (await write(scope, opened.value, row, verdict)) ? ok({ verdict }) : reusedId();
  });
}

function readSheet(steps: RecordKeyTestInput['steps']): Result<KeySheet> {
  const read = (step: KeyStep): Result<KeyResult | null> =>
    readOptionalChoice(
      keyResults,
      steps[step],
      step,
      `${keySteps[step].label}: choose what the test showed.`,
    );
  const sheet = everyResult({
    battery: read('battery'),
    coating: read('coating'),
    lock: read('lock'),
    unlock: read('unlock'),
    trunk: read('trunk'),
    horn: read('horn'),
  });
  return sheet.ok ? checkKeySheet(sheet.value) : sheet;
}

async function checkLine(scope: Scope, { id, state }: WorkOrderRow, lineId: LineId): Promise<Result<true>> {
  if (!['written_up', 'awaiting_approval', 'approved', 'in_work'].includes(state))
    return refuse(
      'wrong_state',
      `This work order is “${workOrderStates[state]}”: the key is tested before the work is finished.`,
    );
  const row = (await listWorkOrderLines(scope.tx, id)).find((each) => each.id === lineId);
  if (row === undefined) return refuse('not_found', 'This work order has no such line. Open it again.');
  if (isKeyRemote({ part: lineFacts(row).part, family: row.family })) return ok(true);
  return refuse('invalid_input', 'This line is no key remote.', 'line_id');
}

const verdictWords: Readonly<Record<KeyVerdict, string>> = {
  passed: 'All tests passed: the case and pad can be replaced.',
  failed: 'A test failed: no case is sold.',
  unfinished: 'The tests are not through yet.',
};

async function write(
  scope: Scope,
  { id, state }: WorkOrderRow,
  row: Omit<KeyTestRow, 'tenantId'>,
  verdict: KeyVerdict,
): Promise<boolean> {
  if (!(await insertKeyTest(scope.tx, row))) return false;
  await insertWorkOrderStep(scope.tx, {
    id: scope.newId(),
    workOrderId: id,
    event: 'key_tested',
    toState: state,
    personId: scope.actor.personId,
    happenedAt: scope.now,
    note: verdictWords[verdict],
  });
  const { battery, coating, lock, unlock, trunk, horn, lineId } = row;
  const detail = { line_id: lineId, battery, coating, lock, unlock, trunk, horn, verdict };
  await record(scope, 'key_tested', { kind: 'work_order', id }, detail);
  return true;
}

function reusedId() {
  return refuse('id_reused', 'This id was already used for another sheet. Send it under a new id.', 'id');
}
