import { ok, type Result, refuse } from '../result.ts';
import {
  isAsLongAsLastEight,
  type LastEight,
  lastEightOf,
  parseLastEight,
  parseVin,
  type Vin,
} from './vin.ts';

/** The kinds of number that an account itself gives a vehicle or its visit, with their names on pages. */
export const ownNumberKinds = {
  stock: 'stock number',
  unit: 'unit number',
  lot: 'lot number',
  job: 'job number',
  claim: 'claim number',
  repair_order: 'repair order number',
} as const satisfies Record<string, string>;

export type OwnNumberKind = keyof typeof ownNumberKinds;

export interface OwnNumber {
  readonly kind: OwnNumberKind;
  readonly number: string;
}

/** What a person wrote; empty text is the same as nothing. */
export interface VehicleInput {
  /** The whole VIN, or its last 8 where the field for those is left empty. */
  readonly vin: string | null;
  readonly lastEight: string | null;
  readonly ownNumbers: readonly OwnNumber[];
}

/** By what a vehicle is known. `lastEight` is taken from the VIN where there is one. */
export interface VehicleIdentification {
  readonly vin: Vin | null;
  readonly lastEight: LastEight | null;
  readonly ownNumbers: readonly OwnNumber[];
  readonly modelYear: number | null;
  /** Sentences for the person at the vehicle; none of them stops the write-up. */
  readonly warnings: readonly string[];
}

/**
 * Reads by what a vehicle is known: a VIN, its last 8, or the account's own number; one of them is enough.
 * Refuses with `invalid_vin`, or `invalid_input` where nothing identifies it or a number can't be read.
 */
export function identifyVehicle(input: VehicleInput): Result<VehicleIdentification> {
  const numbers = readOwnNumbers(input.ownNumbers);
  if (!numbers.ok) return numbers;
  const onlyLastEight = !isBlank(input.vin) && isBlank(input.lastEight) && isAsLongAsLastEight(input.vin);
  const vin = onlyLastEight || isBlank(input.vin) ? null : parseVin(input.vin);
  if (vin !== null && !vin.ok) return vin;
  const lastEight = onlyLastEight
    ? parseLastEight(input.vin, 'vin')
    : isBlank(input.lastEight)
      ? null
      : parseLastEight(input.lastEight);
  if (lastEight !== null && !lastEight.ok) return lastEight;
  if (vin === null && lastEight === null && numbers.value.length === 0)
    return refuse(
      'invalid_input',
      'Nothing says which vehicle this is. Give its VIN, the last 8, or the account’s own number for it.',
      'vin',
    );
  return ok({
    vin: vin?.value.vin ?? null,
    lastEight: vin === null ? (lastEight?.value ?? null) : lastEightOf(vin.value.vin),
    ownNumbers: numbers.value,
    modelYear: vin?.value.modelYear ?? null,
    warnings: [
      ...(vin?.value.warnings.map((warning) => warning.sentence) ?? []),
      ...disagreement(vin?.value.vin ?? null, lastEight?.value ?? null),
    ],
  });
}

function isBlank(text: string | null): text is null {
  return text === null || text.trim() === '';
}

function readOwnNumbers(written: readonly OwnNumber[]): Result<readonly OwnNumber[]> {
  const read: OwnNumber[] = [];
  for (const { kind, number } of written) {
    const text = number.trim().replace(/\s+/g, ' ');
    if (text === '') continue;
    const name = ownNumberKinds[kind];
    if (text.length > 40 || /\p{C}/u.test(text))
      return refuse('invalid_input', `A ${name} has at most 40 letters, digits and signs.`, kind);
    if (read.some((other) => other.kind === kind))
      return refuse('invalid_input', `There are two of the ${name}. Keep the right one.`, kind);
    read.push({ kind, number: text });
  }
  return ok(read);
}

function disagreement(vin: Vin | null, lastEight: LastEight | null): readonly string[] {
  if (vin === null || lastEight === null || lastEightOf(vin) === lastEight) return [];
  return [
    `The VIN ends in ${lastEightOf(vin)}, the last 8 written are ${lastEight}. Is this the right vehicle?`,
  ];
}
