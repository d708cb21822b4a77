import type { AccountRow, BillableWorkOrder } from '@grainwright/db';
import type { DemandedNumber } from '@grainwright/domain';
import { numberWords, vehicleWords } from '../work-orders/vehicle-words.ts';

/** A vehicle as a document names it, with its VIN: “2025 Ostra Vela, gray, VIN …”. */
export function documentVehicle(vehicle: BillableWorkOrder['vehicle']): string {
  const words = vehicleWords(vehicle);
  if (vehicle.vin !== null) return words.includes(vehicle.vin) ? words : `${words}, VIN ${vehicle.vin}`;
  if (vehicle.lastEight === null || words.includes(vehicle.lastEight)) return words;
  return `${words}, VIN ending in ${vehicle.lastEight}`;
}

type AskedNumbers = Pick<AccountRow, 'ownNumberKind' | 'ownNumberRequired' | 'requiresRo' | 'requiresPo'>;
type GivenNumbers = Pick<BillableWorkOrder, 'ownNumber' | 'roNumber' | 'poNumber'>;

/** The account's numbers of a work order as a document prints them: “job number BG-9107, RO 48102”. */
export function documentNumbers(
  { ownNumberKind }: Pick<AskedNumbers, 'ownNumberKind'>,
  given: GivenNumbers,
): string {
  return numberWords({
    ownKind: ownNumberKind,
    own: given.ownNumber,
    ro: given.roNumber,
    po: given.poNumber,
  });
}

/** The numbers that an account demands on its invoices, and those that a work order has. */
export function numbersFor(
  account: AskedNumbers,
  given: GivenNumbers,
): { readonly demandedNumbers: readonly DemandedNumber[]; readonly givenNumbers: readonly DemandedNumber[] } {
  const own: readonly DemandedNumber[] = account.ownNumberKind === null ? [] : [account.ownNumberKind];
  return {
    demandedNumbers: [
      ...(account.ownNumberRequired ? own : []),
      ...(account.requiresRo ? (['repair_order'] as const) : []),
      ...(account.requiresPo ? (['purchase_order'] as const) : []),
    ],
    givenNumbers: [
      ...(given.ownNumber === '' ? [] : own),
      ...(given.roNumber === '' ? [] : (['repair_order'] as const)),
      ...(given.poNumber === '' ? [] : (['purchase_order'] as const)),
    ],
  };
}
