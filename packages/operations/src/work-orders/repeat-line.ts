import { findLastLineOfVisit, findVisit, findWorkOrder, type WorkOrderLineRow } from '@grainwright/db';
import {
  formatDecimal,
  heatTests,
  type LineId,
  ok,
  type Result,
  refuse,
  type VisitId,
  type WorkOrderId,
} from '@grainwright/domain';
import { type Actor, performAsStaff, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { openWorkOrder } from '../work-order-path.ts';
import { addLineTo, openWrittenUp } from './line-change.ts';
import { lineFacts } from './line-facts.ts';
import { loadWorkOrder } from './load-work-order.ts';
import type { LineInput } from './read-line.ts';
import type { WorkOrderView } from './work-order-view.ts';

export interface RepeatLineInput {
  readonly workOrderId: WorkOrderId;
  /** Of the new line, made by the client. */
  readonly lineId: LineId;
  /** As in `addLine`. */
  readonly anotherDamage?: boolean | undefined;
  /** What was found on this vehicle, in place of what was found on the other; a heat test has to be made again. */
  readonly found?: Pick<LineInput, 'observation' | 'looksLike'> | undefined;
  /** As measured here; the size of the repeated line where it is not given. */
  readonly measuredInches?: string | undefined;
}

/**
 * Writes the last line of this visit once more, on this vehicle: part, damage, finding, methods
 * and repair, with the measured size to be looked at. Photos, notes and prices by hand are of the first one alone.
 * Sent twice under one id it is one line. Refuses as `addLine` does, with `not_found` where nothing was written on
 * this visit yet, and with `invalid_input` where the heat test of the other vehicle was not made on this one.
 */
export function repeatLine(
  services: Services,
  actor: Actor,
  { workOrderId, lineId, anotherDamage, found, measuredInches }: RepeatLineInput,
): Promise<Result<WorkOrderView>> {
  return performAsStaff(services, actor, 'change_estimate', async (scope) => {
    const there = await openWorkOrder(scope, workOrderId);
    if (!there.ok) return there;
    const view = await loadWorkOrder(scope, workOrderId);
    if (!view.ok || view.value.lines.some(({ id }) => id === lineId)) return view;
    const opened = await openWrittenUp(scope, workOrderId);
    if (!opened.ok) return opened;
    const last = await lineToRepeat(scope, opened.value.workOrder.visitId);
    if (last === null)
      return refuse('not_found', 'No line was written on this visit yet. Add the first one.', 'line_id');
    if (last.asks === 'heat_test' && found === undefined) return refuseUntested();
    const line = { ...last.line, ...found, measuredInches: measuredInches ?? last.line.measuredInches };
    const added = await addLineTo(scope, opened.value, { lineId, line, anotherDamage });
    return added.ok ? loadWorkOrder(scope, workOrderId) : added;
  });
}

function refuseUntested(): Extract<Result<never>, { ok: false }> {
  return refuse(
    'invalid_input',
    'The material of that line was told by a heat test. Make the test on this vehicle, and send what it showed as the observation.',
    'observation',
  );
}

/** What would be written once more. */
export interface LineToRepeat {
  /** Without what a heat test showed: that was seen on the other vehicle alone. */
  readonly line: LineInput;
  /** What has to be done at this vehicle before the line is kept. */
  readonly asks: 'heat_test' | 'size' | null;
  /** E.g. “Burn, seat cushion, left”. */
  readonly words: string;
  readonly workOrderNumber: bigint;
}

/** The line that `repeatLine` would write; null where there is none, or no line is written any more. */
export function readLineToRepeat(
  services: Services,
  actor: Actor,
  workOrderId: WorkOrderId,
): Promise<Result<LineToRepeat | null>> {
  return performAsStaff(services, actor, 'change_estimate', async (scope) => {
    const found = await findWorkOrder(scope.tx, workOrderId);
    if (found === null) return refuse('not_found', 'There is no such work order.');
    if (found.workOrder.state !== 'written_up') return ok(null);
    return ok(await lineToRepeat(scope, found.visit.id));
  });
}

/** The actor's own last one; whoever has written none here repeats the technician's. */
async function lineToRepeat(scope: Scope, visitId: VisitId): Promise<LineToRepeat | null> {
  const own = await findLastLineOfVisit(scope.tx, visitId, scope.actor.personId);
  const visit = own === null ? await findVisit(scope.tx, visitId) : null;
  const last = visit === null ? own : await findLastLineOfVisit(scope.tx, visitId, visit.technicianId);
  if (last === null) return null;
  const { line, workOrderNumber } = last;
  return { line: repeated(line), asks: askedOf(line), words: lineFacts(line).label, workOrderNumber };
}

/** A heat test is made at each vehicle, and a size that picks the price is measured at each. */
function askedOf(line: WorkOrderLineRow): LineToRepeat['asks'] {
  if (isHeatTested(line)) return 'heat_test';
  return line.family !== '' && line.measuredInches !== null ? 'size' : null;
}

function isHeatTested({ observation }: WorkOrderLineRow): boolean {
  return heatTests.some((kind) => kind === observation);
}

/** The overrule goes with the test that it was set over. */
function repeated(line: WorkOrderLineRow): LineInput {
  const tested = isHeatTested(line);
  const [observation = '', looksLike = ''] = tested ? [] : line.observation.split(':');
  const overruled = !tested && line.overruleReason !== null;
  return {
    part: line.part,
    side: line.side,
    damage: line.damage,
    visibleWhen: line.visibleWhen,
    observation,
    looksLike,
    overruledMaterial: overruled ? line.material : '',
    overruleReason: overruled ? (line.overruleReason ?? '') : '',
    methods: line.methods,
    measuredInches: line.measuredInches === null ? '' : formatDecimal(line.measuredInches),
    family: line.family,
    rateCode: line.family === '' ? (line.rateCode ?? '') : '',
    factorCode: line.factorCode ?? '',
    byHandPrice: '',
    byHandReason: '',
    byHandMaterialsPercent: '',
    note: '',
  };
}
