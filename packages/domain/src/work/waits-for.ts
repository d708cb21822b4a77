import { type DemandedNumber, missingNumbers } from './readiness.ts';
import type { WorkOrderState } from './state.ts';

export type WaitsFor = 'technician' | 'approval' | 'po' | 'acceptance' | 'invoice' | 'money' | 'nobody';

export interface WaitingFacts {
  readonly state: WorkOrderState;
  readonly reworkWithoutCharge: boolean;
  readonly demandedNumbers: readonly DemandedNumber[];
  readonly givenNumbers: readonly DemandedNumber[];
}

/**
 * What a work order waits for. It is derived, never stored. `po` stands for any number that the account
 * demands on the invoice and has not given.
 */
export function waitsFor(facts: WaitingFacts): WaitsFor {
  switch (facts.state) {
    case 'written_up':
    case 'approved':
    case 'in_work':
      return 'technician';
    case 'awaiting_approval':
      return 'approval';
    case 'done':
      return 'acceptance';
    case 'accepted':
      if (facts.reworkWithoutCharge) return 'nobody';
      return missingNumbers(facts).length > 0 ? 'po' : 'invoice';
    case 'invoiced':
      return 'money';
    case 'paid':
    case 'declined':
    case 'void':
    case 'written_off':
      return 'nobody';
  }
}
