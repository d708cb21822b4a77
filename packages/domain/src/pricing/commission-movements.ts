import type { Day } from '../dates.ts';
import type { Decimal } from '../money/decimal.ts';
import { commissionMinor } from './commission.ts';

/** What happened to the repair labor of one vehicle on one invoice; amounts are minor units. */
export type LaborEvent =
  | { readonly kind: 'invoiced' | 'credited'; readonly on: Day; readonly laborMinor: bigint }
  /** Whatever is left of the invoice is taken off. */
  | { readonly kind: 'voided'; readonly on: Day };

/** What an event moves: below zero where labor or commission is taken back. */
export interface CommissionMovement<Event extends LaborEvent> {
  readonly event: Event;
  readonly laborMinor: bigint;
  readonly commissionMinor: bigint;
}

/**
 * What each event of a vehicle on an invoice moves of a technician's commission, in their order. A credit takes back
 * the difference between the commission of the labor before and of what remains, so that all together come to the
 * commission of what remains in the end. The percent is that of the day of work. Common practice, no source.
 */
export function commissionMovements<Event extends LaborEvent>(
  events: readonly Event[],
  percent: Decimal,
): readonly CommissionMovement<Event>[] {
  let laborMinor = 0n;
  return events.map((event) => {
    const before = laborMinor;
    laborMinor = laborAfter(before, event);
    if (laborMinor < 0n) throw new Error(`more labor was credited than invoiced, by ${-laborMinor}`);
    return {
      event,
      laborMinor: laborMinor - before,
      commissionMinor: commissionMinor(laborMinor, percent) - commissionMinor(before, percent),
    };
  });
}

function laborAfter(before: bigint, event: LaborEvent): bigint {
  switch (event.kind) {
    case 'invoiced':
      return before + event.laborMinor;
    case 'credited':
      return before - event.laborMinor;
    case 'voided':
      return 0n;
  }
}
