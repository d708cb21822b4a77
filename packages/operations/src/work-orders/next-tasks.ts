import { findTaskRows, type ListedWorkOrder, type WorkOrderLineRow } from '@grainwright/db';
import { isKeyRemote, type LineId, type NextTask, nextTask, type WorkOrderId } from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { lineFacts } from './line-facts.ts';
import { loadPricing, priceLines } from './price-lines.ts';

/** Written up to done: somebody has something to do on it yet. */
export const onTheWay: readonly ListedWorkOrder['state'][] = [
  'written_up',
  'awaiting_approval',
  'approved',
  'in_work',
  'done',
];

/** What comes next on each of these work orders, read for all of them together. */
export async function nextTasks(
  scope: Scope,
  rows: readonly ListedWorkOrder[],
): Promise<ReadonlyMap<WorkOrderId, NextTask>> {
  const open = rows.filter(({ state }) => onTheWay.includes(state));
  const found = await findTaskRows(
    scope.tx,
    open.map(({ id }) => id),
  );
  const linesOf = (id: WorkOrderId) => found.lines.filter((line) => line.workOrderId === id);
  const unpriced = await whyUnpriced(scope, open, linesOf);
  const tasks = open.map((row) => {
    const lines = linesOf(row.id).map((line) => {
      const { part, repairsDamage } = lineFacts(line);
      return {
        id: line.id,
        repairsDamage,
        unpriced: unpriced.get(line.id) ?? null,
        answer: found.answers.find(({ lineId }) => lineId === line.id)?.answer ?? null,
        keyRemote: isKeyRemote({ part, family: line.family }),
      };
    });
    const photos = found.photos.filter(({ workOrderId }) => workOrderId === row.id);
    const facts = {
      state: row.state,
      holdReason: row.holdReason,
      notAccepted: row.notAccepted,
      lines,
      photos,
      testedKeys: found.testedKeys,
    };
    return [row.id, nextTask(facts)] as const;
  });
  return new Map(tasks);
}

/** Prices are asked for while a vehicle is written up; what was sent has them. Those of a visit are loaded once. */
async function whyUnpriced(
  scope: Scope,
  rows: readonly ListedWorkOrder[],
  linesOf: (id: WorkOrderId) => readonly WorkOrderLineRow[],
): Promise<ReadonlyMap<LineId, string>> {
  const why = new Map<LineId, string>();
  const asked = rows.filter(({ state }) => state === 'written_up');
  const groups = Map.groupBy(asked, ({ visit, reworkOfId }) => `${visit.id} ${reworkOfId !== null}`);
  for (const group of groups.values()) {
    const [first] = group;
    if (first === undefined) continue;
    const lines = group.flatMap(({ id }) => linesOf(id));
    if (lines.length === 0) continue;
    const pricing = await loadPricing(scope, first.visit, first.reworkOfId !== null);
    const unpriced = pricing.ok
      ? priceLines(lines, pricing.value).unpriced
      : new Map(lines.map(({ id }) => [id, pricing.problem.detail]));
    for (const [id, sentence] of unpriced) why.set(id, sentence);
  }
  return why;
}
