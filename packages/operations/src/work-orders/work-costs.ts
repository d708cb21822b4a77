import { setCosts, type WorkCosts } from '@grainwright/db';
import { ok, parseMoney, type Result, refuse, type WorkOrderId } from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { record, type Scope } from '../perform.ts';

/** What the work cost the business, as typed; empty where nobody wrote it down. */
export interface CostWords {
  /** Whole minutes of the technician. */
  readonly technicianMinutes: string;
  /** What the materials cost, as a decimal. */
  readonly materialsCost: string;
}

export function readCosts(
  { technicianMinutes, materialsCost }: CostWords,
  currency: string,
): Result<WorkCosts> {
  return everyResult({
    technicianMinutes: readMinutes(technicianMinutes),
    materialsCostMinor:
      materialsCost.trim() === ''
        ? ok(null)
        : parseMoney(materialsCost, { currency, field: 'materials_cost' }),
  });
}

/** Keeps what was written down; nothing, where nothing was. */
export async function keepCosts(scope: Scope, id: WorkOrderId, costs: WorkCosts): Promise<void> {
  if (costs.technicianMinutes === null && costs.materialsCostMinor === null) return;
  await setCosts(scope.tx, id, costs);
  const detail = {
    technician_minutes: costs.technicianMinutes,
    materials_cost_minor: costs.materialsCostMinor?.toString() ?? null,
  };
  await record(scope, 'work_costs', { kind: 'work_order', id }, detail);
}

function readMinutes(text: string): Result<number | null> {
  const plain = text.trim();
  if (plain === '') return ok(null);
  if (/^\d{1,4}$/.test(plain) && Number(plain) > 0) return ok(Number(plain));
  return refuse('invalid_input', 'Write the time in whole minutes, like 66.', 'technician_minutes');
}
