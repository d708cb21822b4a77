import { findLastLineOfVisit, findVisit, findWorkOrder, type WorkOrderLineRow } from '@grainwright/db';
import {
  formatDecimal,
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
}

/**
 * Writes the last line of this visit once more, on this vehicle: part, damage, finding, methods
 * and repair, with the measured size to be looked at. Photos, notes and prices by hand are of the first one alone.
 * Sent twice under one id it is one line. Refuses as `addLine` does, and with `not_found` where nothing was written on
 * this visit yet.
 */
export function repeatLine(
  services: Services,
  actor: Actor,
  { workOrderId, lineId, anotherDamage }: RepeatLineInput,
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
    const added = await addLineTo(scope, opened.value, { lineId, line: last.line, anotherDamage });
    return added.ok ? loadWorkOrder(scope, workOrderId) : added;
  });
}

/** What would be written once more. */
export interface LineToRepeat {
  readonly line: LineInput;
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
  return { line: repeated(line), words: lineFacts(line).label, workOrderNumber };
}

function repeated(line: WorkOrderLineRow): LineInput {
  const [observation = '', looksLike = ''] = line.observation.split(':');
  return {
    part: line.part,
    side: line.side,
    damage: line.damage,
    visibleWhen: line.visibleWhen,
    observation,
    looksLike,
    overruledMaterial: line.overruleReason === null ? '' : line.material,
    overruleReason: line.overruleReason ?? '',
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
