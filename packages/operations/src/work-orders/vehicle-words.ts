import { type OwnNumberKind, ownNumberKinds } from '@grainwright/domain';

/** A vehicle in one line, e.g. “2025 Ostra Vela, gray”; with its VIN where neither make nor model is known. */
export function vehicleWords(vehicle: {
  readonly modelYear: number | null;
  readonly make: string;
  readonly model: string;
  readonly color: string;
  readonly vin: string | null;
  readonly lastEight: string | null;
}): string {
  const name = [vehicle.modelYear === null ? '' : String(vehicle.modelYear), vehicle.make, vehicle.model]
    .filter((part) => part !== '')
    .join(' ');
  const named = vehicle.make !== '' || vehicle.model !== '';
  const words = [name, vehicle.color, named ? '' : vinWords(vehicle)]
    .filter((part) => part !== '')
    .join(', ');
  return words === '' ? 'Vehicle' : words;
}

function vinWords({
  vin,
  lastEight,
}: {
  readonly vin: string | null;
  readonly lastEight: string | null;
}): string {
  if (vin !== null) return `VIN ${vin}`;
  return lastEight === null ? '' : `VIN ending in ${lastEight}`;
}

/** The numbers that an account knows a vehicle or its repair by, e.g. “stock number PL-251, RO 48213”. */
export function numberWords(numbers: {
  readonly ownKind: OwnNumberKind | null;
  readonly own: string;
  readonly ro: string;
  readonly po: string;
}): string {
  return [
    numbers.own === '' || numbers.ownKind === null ? '' : `${ownNumberKinds[numbers.ownKind]} ${numbers.own}`,
    numbers.ro === '' ? '' : `RO ${numbers.ro}`,
    numbers.po === '' ? '' : `PO ${numbers.po}`,
  ]
    .filter((part) => part !== '')
    .join(', ');
}
