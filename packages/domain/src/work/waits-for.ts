import { type DemandedNumber, missingNumbers } from './readiness.ts';
import type { WorkOrderState } from './state.ts';

export type WaitsFor =
  | 'technician'
  | 'hold'
  | 'approval'
  | 'po'
  | 'acceptance'
  | 'invoice'
  | 'money'
  | 'nobody';

export interface WaitingFacts {
  readonly state: WorkOrderState;
  /** Null: it is not on hold. */
  readonly holdReason: string | null;
  readonly reworkWithoutCharge: boolean;
  /** The newest answer about the done work was a no: it has to be put right. */
  readonly notAccepted: boolean;
  readonly demandedNumbers: readonly DemandedNumber[];
  readonly givenNumbers: readonly DemandedNumber[];
}

/**
 * What a work order waits for. It is derived, never stored. `po` stands for any number that the account
 * demands on the invoice and has not given; `hold` for somebody to lift it, while the work has not begun: a hold stops
 * a start, never an answer or what was begun.
 */
export function waitsFor(facts: WaitingFacts): WaitsFor {
  switch (facts.state) {
    case 'written_up':
    case 'approved':
      return facts.holdReason === null ? 'technician' : 'hold';
    case 'in_work':
      return 'technician';
    case 'awaiting_approval':
      return 'approval';
    case 'done':
      return facts.notAccepted ? 'technician' : 'acceptance';
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
