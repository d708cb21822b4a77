import type { PlaceRow } from '@grainwright/db';
import {
  addDays,
  type Day,
  dayWords,
  identifyVehicle,
  type LastEight,
  type OwnNumber,
  ok,
  parseDay,
  parseMoney,
  type Result,
  refuse,
  type Vin,
} from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { readOptionalWords } from '../read-input.ts';
import { readNumbers } from './read-numbers.ts';

/** What is typed at the vehicle. Fields' names in refusals are those of the API. */
export interface WriteUpWords extends ChangeableWords {
  readonly vin: string;
  readonly lastEight: string;
  readonly modelYear: string;
  readonly make: string;
  readonly model: string;
  readonly color: string;
}

/** What may be given later or corrected. */
export interface ChangeableWords {
  readonly ownNumber: string;
  readonly roNumber: string;
  readonly poNumber: string;
  readonly ownerName: string;
  readonly ownerPhone: string;
  readonly odometerMiles: string;
  /** What new parts would cost, fitted, as quoted: one sum for all damaged parts together. */
  readonly replacement: string;
  readonly replacementNote: string;
}

export interface ReadChangeable {
  readonly ownNumber: string;
  readonly roNumber: string;
  readonly poNumber: string;
  readonly ownerName: string;
  readonly ownerPhone: string;
  readonly odometerMiles: number | null;
}

export interface ReadWriteUp extends ReadChangeable {
  readonly day: Day;
  readonly vin: Vin | null;
  readonly lastEight: LastEight | null;
  readonly modelYear: number | null;
  readonly make: string;
  readonly model: string;
  readonly color: string;
  readonly warnings: readonly string[];
  readonly replacement: ReadReplacement | null;
}

/** As much of a place as a write-up is read by. */
export type WriteUpPlace = Pick<
  PlaceRow,
  'accountName' | 'ownNumberKind' | 'ownNumberRequired' | 'openedOn' | 'endedOn'
>;

/** Reads a write-up for a place: the account must be open to new work on the day, and gets the number it demands. */
export function readWriteUp(
  input: WriteUpWords & { readonly day: string },
  place: WriteUpPlace,
  today: Day,
  currency: string,
): Result<ReadWriteUp> {
  const vehicle = readVehicle(input, place);
  const read = everyResult({
    day: input.day.trim() === '' ? ok(today) : parseDay(input.day.trim(), 'day'),
    modelYear: readYear(input.modelYear, today, vehicle.ok ? vehicle.value.modelYear : null),
    make: readOptionalWords(input.make, 'make', 'the make', 60),
    model: readOptionalWords(input.model, 'model', 'the model', 60),
    color: readOptionalWords(input.color, 'color', 'the color', 60),
  });
  if (!read.ok) return read;
  const open = checkOpen(place, read.value.day, today);
  if (!open.ok) return open;
  if (!vehicle.ok) return vehicle;
  const changeable = readChangeable(input, place);
  if (!changeable.ok) return changeable;
  const replacement = readReplacement(input, currency);
  if (!replacement.ok) return replacement;
  const { vin, lastEight, warnings } = vehicle.value;
  const modelYear = read.value.modelYear ?? vehicle.value.modelYear;
  const given = { ...changeable.value, replacement: replacement.value };
  return ok({ ...given, ...read.value, modelYear, vin, lastEight, warnings });
}

/** Reads what may be given later as well: numbers, the vehicle's owner, the odometer. */
export function readChangeable(
  input: Omit<ChangeableWords, 'replacement' | 'replacementNote'>,
  account: Pick<PlaceRow, 'accountName' | 'ownNumberKind' | 'ownNumberRequired'>,
): Result<ReadChangeable> {
  const numbers = readNumbers(input, { ...account, name: account.accountName });
  if (!numbers.ok) return numbers;
  const read = everyResult({
    ownerName: readOptionalWords(input.ownerName, 'owner_name', 'the owner’s name', 200),
    ownerPhone: readOptionalWords(input.ownerPhone, 'owner_phone', 'the owner’s phone', 40),
    odometerMiles: readMiles(input.odometerMiles),
  });
  return read.ok ? ok({ ...numbers.value, ...read.value }) : read;
}

/** What new parts for all of the damage would cost together; null without a quote. */
export interface ReadReplacement {
  readonly amountMinor: bigint;
  readonly note: string;
}

export function readReplacement(
  input: Pick<ChangeableWords, 'replacement' | 'replacementNote'>,
  currency: string,
): Result<ReadReplacement | null> {
  if (input.replacement.trim() === '') return ok(null);
  const read = everyResult({
    amountMinor: parseMoney(input.replacement, { currency, field: 'replacement' }),
    note: readOptionalWords(input.replacementNote, 'replacement_note', 'the note', 500),
  });
  if (!read.ok || read.value.amountMinor !== 0n) return read;
  return refuse(
    'invalid_money',
    'Write what the new part would cost, fitted, or leave it empty without a quote.',
    'replacement',
  );
}

const daysAheadMax = 60;

/** Whether work can be written up for a place on a day: while its account is open, and not too far ahead. */
export function checkOpen(place: WriteUpPlace, day: Day, today: Day): Result<true> {
  if (day < place.openedOn)
    return refuse(
      'invalid_date',
      `${place.accountName} has been an account since ${dayWords(place.openedOn)}; ${dayWords(day)} is before that. Check the day of work.`,
      'day',
    );
  if (day > addDays(today, daysAheadMax))
    return refuse(
      'invalid_date',
      `Work is written up at most ${daysAheadMax} days ahead. Check the day of work.`,
      'day',
    );
  if (place.endedOn === null || day <= place.endedOn) return ok(true);
  return refuse(
    'invalid_date',
    `${place.accountName} is closed to new work since ${dayWords(place.endedOn)}; ${dayWords(day)} is after that. Check the day of work, or choose the account that took its place.`,
    'day',
  );
}

function readVehicle(input: WriteUpWords, place: WriteUpPlace) {
  const ownNumbers: readonly OwnNumber[] = [
    ...(place.ownNumberKind === null ? [] : [{ kind: place.ownNumberKind, number: input.ownNumber }]),
    { kind: 'repair_order', number: input.roNumber },
  ];
  const identified = identifyVehicle({ vin: input.vin, lastEight: input.lastEight, ownNumbers });
  if (identified.ok) return identified;
  const { code, detail, field } = identified.problem;
  return refuse(code, detail, apiNames[field ?? ''] ?? field);
}

const apiNames: Readonly<Record<string, string>> = {
  lastEight: 'last_eight',
  repair_order: 'ro_number',
  stock: 'own_number',
  unit: 'own_number',
  lot: 'own_number',
  job: 'own_number',
  claim: 'own_number',
};

/** `ofVin` is the year that the VIN says, null where it says none. */
function readYear(text: string, today: Day, ofVin: number | null): Result<number | null> {
  const typed = text.trim();
  const field = 'model_year';
  if (typed === '') return ok(null);
  if (!/^\d{4}$/.test(typed))
    return refuse('invalid_input', 'Write the model year with four digits, like 2025.', field);
  const year = Number(typed);
  // A model year is sold from the summer before, and shown earlier.
  const newest = Number(today.slice(0, 4)) + 2;
  if (year >= 1900 && year <= newest) return ok(year);
  const advice = ofVin === null ? '. Check the model year.' : `; the VIN says ${ofVin}.`;
  return refuse('invalid_input', `${typed} is too ${year > newest ? 'late' : 'early'}${advice}`, field);
}

function readMiles(text: string): Result<number | null> {
  const plain = text.trim().replaceAll(',', '');
  if (plain === '') return ok(null);
  if (/^\d{1,7}$/.test(plain)) return ok(Number(plain));
  if (/^[-−]/.test(plain))
    return refuse('invalid_input', 'An odometer shows nothing below zero. Read it again.', 'odometer_miles');
  return refuse('invalid_input', 'Write the odometer in whole miles, like 41250.', 'odometer_miles');
}
