import type { AcceptanceRule, WorkOrderId, WorkOrderState } from '@grainwright/domain';
import { vehicleWords } from './vehicle-words.ts';
import type { OpenedWork } from './work-lines.ts';

/** What stands at the top of every page about one work order. */
export interface WorkHeading {
  readonly id: WorkOrderId;
  /** Null on a phone whose write-up the server has not taken yet; never here. */
  readonly number: bigint | null;
  readonly state: WorkOrderState;
  /** E.g. “2025 Ostra Vela, gray”. */
  readonly vehicle: string;
  readonly accountName: string;
  /** The account's own number for the vehicle; empty without one. */
  readonly ownNumber: string;
  readonly acceptanceRule: AcceptanceRule;
}

export function workHeading({
  workOrder,
  vehicle,
  account,
}: Pick<OpenedWork, 'workOrder' | 'vehicle' | 'account'>): WorkHeading {
  return {
    id: workOrder.id,
    number: workOrder.number,
    state: workOrder.state,
    vehicle: vehicleWords(vehicle, workOrder.ownNumber),
    accountName: account.name,
    ownNumber: workOrder.ownNumber,
    acceptanceRule: account.acceptanceRule,
  };
}
