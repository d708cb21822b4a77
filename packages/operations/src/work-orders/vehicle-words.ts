import { type OwnNumberKind, ownNumberKinds } from '@grainwright/domain';

/**
 * A vehicle in one line, e.g. “2025 Ostra Vela, gray”; with its VIN where neither make nor model is known. Where nothing
 * is, by the account's own number, as far as it stands nowhere beside it: “Vehicle PL-251”.
 */
export function vehicleWords(
  vehicle: {
    readonly modelYear: number | null;
    readonly make: string;
    readonly model: string;
    readonly color: string;
    readonly vin: string | null;
    readonly lastEight: string | null;
  },
  ownNumber = '',
): string {
  const name = [vehicle.modelYear === null ? '' : String(vehicle.modelYear), vehicle.make, vehicle.model]
    .filter((part) => part !== '')
    .join(' ');
  const named = vehicle.make !== '' || vehicle.model !== '';
  const words = [name, vehicle.color, named ? '' : vinWords(vehicle)]
    .filter((part) => part !== '')
    .join(', ');
  return words === '' ? `Vehicle ${ownNumber}`.trim() : words;
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

/** The account's own number for a vehicle: “stock number PL-251”; empty without one. */
export function ownNumberWords(kind: OwnNumberKind | null, own: string): string {
  return own === '' || kind === null ? '' : `${ownNumberKinds[kind]} ${own}`;
}

/** The numbers that an account knows a vehicle or its repair by, e.g. “stock number PL-251, RO 48213”. */
export function numberWords(numbers: {
  readonly ownKind: OwnNumberKind | null;
  readonly own: string;
  readonly ro: string;
  readonly po: string;
}): string {
  return [
    ownNumberWords(numbers.ownKind, numbers.own),
    numbers.ro === '' ? '' : `RO ${numbers.ro}`,
    numbers.po === '' ? '' : `PO ${numbers.po}`,
  ]
    .filter((part) => part !== '')
    .join(', ');
}
