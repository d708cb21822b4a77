import {
  demandedNumbers,
  type GivenNumbers,
  type NumberRules,
  type WaitsFor,
  type WorkOrderId,
  type WorkOrderState,
  waitsFor,
} from '@grainwright/domain';

/** What of a work order and its account decides what it waits for. */
export interface WaitingRow extends GivenNumbers {
  readonly state: WorkOrderState;
  readonly holdReason: string | null;
  readonly notAccepted: boolean;
  /** A rework is without charge: once it is accepted nothing more comes. */
  readonly reworkOfId: WorkOrderId | null;
  readonly account: NumberRules;
}

/** What a work order waits for, by the numbers its account demands. */
export function waitsForOf(row: WaitingRow): WaitsFor {
  const { state, holdReason, notAccepted, reworkOfId } = row;
  const reworkWithoutCharge = reworkOfId !== null;
  return waitsFor({
    state,
    holdReason,
    notAccepted,
    reworkWithoutCharge,
    ...demandedNumbers(row.account, row),
  });
}
