import type { BillableWorkOrder } from '@grainwright/db';
import type { GivenNumbers, NumberRules } from '@grainwright/domain';
import { numberWords, vehicleWords } from '../work-orders/vehicle-words.ts';

/** A vehicle as a document names it, with its VIN: “2025 Ostra Vela, gray, VIN …”. */
export function documentVehicle(vehicle: BillableWorkOrder['vehicle']): string {
  const words = vehicleWords(vehicle);
  if (vehicle.vin !== null) return words.includes(vehicle.vin) ? words : `${words}, VIN ${vehicle.vin}`;
  if (vehicle.lastEight === null || words.includes(vehicle.lastEight)) return words;
  return `${words}, VIN ending in ${vehicle.lastEight}`;
}

/** The account's numbers of a work order as a document prints them: “job number BG-9107, RO 48102”. */
export function documentNumbers(
  { ownNumberKind }: Pick<NumberRules, 'ownNumberKind'>,
  given: GivenNumbers,
): string {
  return numberWords({
    ownKind: ownNumberKind,
    own: given.ownNumber,
    ro: given.roNumber,
    po: given.poNumber,
  });
}
