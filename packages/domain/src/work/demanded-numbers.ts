import type { OwnNumberKind } from '../vehicle/identification.ts';
import type { DemandedNumber } from './readiness.ts';
import type { WorkOrderState } from './state.ts';

/** Which of its numbers an account wants. */
export interface NumberRules {
  readonly ownNumberKind: OwnNumberKind | null;
  readonly ownNumberRequired: boolean;
  readonly requiresRo: boolean;
  readonly requiresPo: boolean;
}

export interface GivenNumbers {
  readonly ownNumber: string;
  readonly roNumber: string;
  readonly poNumber: string;
}

/** The numbers that an account demands on its invoices, and those that a work order has. */
export function demandedNumbers(
  rules: NumberRules,
  given: GivenNumbers,
): { readonly demandedNumbers: readonly DemandedNumber[]; readonly givenNumbers: readonly DemandedNumber[] } {
  const own: readonly DemandedNumber[] = rules.ownNumberKind === null ? [] : [rules.ownNumberKind];
  return {
    demandedNumbers: [
      ...(rules.ownNumberRequired ? own : []),
      ...(rules.requiresRo ? (['repair_order'] as const) : []),
      ...(rules.requiresPo ? (['purchase_order'] as const) : []),
    ],
    givenNumbers: [
      ...(given.ownNumber === '' ? [] : own),
      ...(given.roNumber === '' ? [] : (['repair_order'] as const)),
      ...(given.poNumber === '' ? [] : (['purchase_order'] as const)),
    ],
  };
}

/** Whether numbers can still be given: until the work order is on an invoice, or has ended without one. */
export function takesNumbers(state: WorkOrderState): boolean {
  return !closed.includes(state);
}

const closed: readonly WorkOrderState[] = ['invoiced', 'paid', 'declined', 'void', 'written_off'];
