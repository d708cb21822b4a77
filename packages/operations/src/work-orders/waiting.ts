import {
  demandedNumbers,
  type GivenNumbers,
  type NumberRules,
  type WaitsFor,
  type WorkOrderState,
  waitsFor,
} from '@grainwright/domain';

/** What of a work order and its account decides what it waits for. */
export interface WaitingRow extends GivenNumbers {
  readonly state: WorkOrderState;
  readonly account: NumberRules;
}

/** What a work order waits for, by the numbers its account demands. */
export function waitsForOf(row: WaitingRow): WaitsFor {
  return waitsFor({ state: row.state, reworkWithoutCharge: false, ...demandedNumbers(row.account, row) });
}
