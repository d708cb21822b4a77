import { ok, type Result, refuse } from '../result.ts';

declare const brand: unique symbol;
/** A vehicle identification number: 17 capitals and digits without I, O and Q (49 CFR 565, ISO 3779). */
export type Vin = string & { readonly [brand]: 'vin' };
/** The last eight characters of a VIN, as a lot writes them on a windshield. */
export type LastEight = string & { readonly [brand]: 'last eight' };

/** A doubt about a VIN that a person settles by looking again; it never stops the write-up. */
export interface VinWarning {
  readonly code: 'check_digit';
  /** Counted from 1. */
  readonly position: number;
  readonly found: string;
  readonly expected: string;
  readonly sentence: string;
}

export interface ReadVin {
  readonly vin: Vin;
  /** Three characters, or six for a maker of few vehicles: 49 CFR 565.15(a). */
  readonly makerIdentifier: string;
  /** The year to propose; null where position 10 is not a year code. */
  readonly modelYear: number | null;
  readonly warnings: readonly VinWarning[];
}

const length = 17;
/** What a person meant who wrote a letter that no VIN has. */
const meant: Readonly<Record<string, string>> = { I: '1', O: '0', Q: '0 or 9' };

/**
 * Reads a VIN as typed or scanned: spaces and dashes are dropped, and so is the data identifier I that a
 * label's bar code carries before the 17 characters (SAE J1877). Refuses with `invalid_vin`. A wrong check
 * digit is a warning only, because vehicles built for other markets need none.
 */
export function parseVin(text: string, field = 'vin'): Result<ReadVin> {
  const characters = withoutDataIdentifier(compact(text));
  const wrong = wrongCharacters(characters);
  if (wrong !== null) return refuse('invalid_vin', withCorrection(wrong, text), field);
  if (characters.length !== length) return refuse('invalid_vin', wrongLength(characters.length), field);
  const vin = characters.join('') as Vin;
  return ok({
    vin,
    makerIdentifier: makerIdentifier(vin),
    modelYear: modelYear(vin),
    warnings: checkDigitWarnings(vin),
  });
}

/** Reads the last eight characters, which may stand alone. Refuses with `invalid_vin`. */
export function parseLastEight(text: string, field = 'lastEight'): Result<LastEight> {
  const characters = compact(text);
  const wrong = wrongCharacters(characters);
  if (wrong !== null) return refuse('invalid_vin', wrong, field);
  if (characters.length !== 8)
    return refuse(
      'invalid_vin',
      `That is ${counted(characters.length)}. Write the last 8 of the VIN, or the whole VIN in its own field.`,
      field,
    );
  return ok(characters.join('') as LastEight);
}

/** Whether as much was written as a last 8 has, so that it is no whole VIN. */
export function isAsLongAsLastEight(text: string): boolean {
  return compact(text).length === 8;
}

const readingsMax = 64;

/**
 * What a VIN with I, O or Q was probably meant to be: the one reading of 17 characters whose check digit fits; null
 * where none does, or several do, or where nothing has to be corrected.
 */
export function correctedVin(text: string): Vin | null {
  const characters = withoutDataIdentifier(compact(text));
  if (characters.length !== length || wrongCharacters(characters) === null) return null;
  let readings: readonly string[] = [''];
  for (const character of characters) {
    const meanings = meant[character]?.split(' or ') ?? [character];
    readings = readings.flatMap((reading) => meanings.map((meaning) => reading + meaning));
    if (readings.length > readingsMax) return null;
  }
  const fitting = readings.filter(isVinWithFittingCheckDigit);
  return fitting.length === 1 ? (fitting[0] ?? null) : null;
}

function isVinWithFittingCheckDigit(text: string): text is Vin {
  return wrongCharacters([...text]) === null && checkDigitWarnings(text as Vin).length === 0;
}

export function lastEightOf(vin: Vin): LastEight {
  return vin.slice(-8) as LastEight;
}

/**
 * The same 17 characters with position 9 computed (49 CFR 565.15(c)), for invented vehicles.
 * Throws where the characters are no VIN.
 */
export function withCheckDigit(vin17: string): Vin {
  const read = parseVin(vin17);
  if (!read.ok) throw new Error(read.problem.detail);
  return `${read.value.vin.slice(0, 8)}${checkDigit(read.value.vin)}${read.value.vin.slice(9)}` as Vin;
}

function compact(text: string): readonly string[] {
  return [...text.toUpperCase().replace(/[\s\u00ad\u2010-\u2015\u2212-]/g, '')];
}

function withoutDataIdentifier(characters: readonly string[]): readonly string[] {
  return characters.length === length + 1 && characters[0] === 'I' ? characters.slice(1) : characters;
}

function wrongCharacters(characters: readonly string[]): string | null {
  const wrong = characters.flatMap((character, index) =>
    /[A-HJ-NPR-Z0-9]/.test(character) ? [] : [wrongCharacter(character, index + 1)],
  );
  if (wrong.length === 0) return null;
  return `${wrong.slice(0, 3).join(' ')} A VIN has only digits and letters other than I, O and Q: look again.`;
}

function withCorrection(sentence: string, text: string): string {
  const corrected = correctedVin(text);
  return corrected === null ? sentence : `${sentence} ${corrected} has the check digit that fits.`;
}

function wrongCharacter(character: string, position: number): string {
  const probably = meant[character];
  return probably === undefined
    ? `Position ${position} is “${character}”.`
    : `Position ${position} is the letter ${character}, probably ${probably}.`;
}

function wrongLength(count: number): string {
  const difference =
    count < length
      ? `${length - count} missing`
      : `${count - length} too ${count - length === 1 ? 'much' : 'many'}`;
  return `That is ${counted(count)}; a VIN has 17 (${difference}). Give all 17, or the last 8.`;
}

function counted(count: number): string {
  return count === 1 ? '1 character' : `${count} characters`;
}

/** 49 CFR 565.15(c), Table III: the letters that count 1, 2, … 9; a digit counts itself. */
const lettersByValue = ['AJ', 'BKS', 'CLT', 'DMU', 'ENV', 'FW', 'GPX', 'HY', 'RZ'];
/** 49 CFR 565.15(c), Table IV; position 9 is the check digit itself. */
const weights: readonly number[] = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2];

function checkDigit(vin: Vin): string {
  const sum = weights.reduce((total, weight, index) => {
    return total + weight * characterValue(vin.charAt(index));
  }, 0);
  const remainder = sum % 11;
  return remainder === 10 ? 'X' : String(remainder);
}

function characterValue(character: string): number {
  const index = lettersByValue.findIndex((letters) => letters.includes(character));
  return index === -1 ? Number(character) : index + 1;
}

function checkDigitWarnings(vin: Vin): readonly VinWarning[] {
  const found = vin.charAt(8);
  const expected = checkDigit(vin);
  if (found === expected) return [];
  const sentence =
    `Position 9 is ${found}; for these characters it would be ${expected}. ` +
    'One character may be misread: compare with the plate, then correct it or keep it.';
  return [{ code: 'check_digit', position: 9, found, expected, sentence }];
}

/** 49 CFR 565.15(d)(1), Table VII: the codes of 30 years, which come round again. */
const yearCodes = 'ABCDEFGHJKLMNPRSTVWXY123456789';

/**
 * 49 CFR 565.15(d)(1): a digit in position 7 means 1980 to 2009, a letter 2010 to 2039. It holds for cars
 * and light trucks; on heavier vehicles position 7 says nothing, so the year is a proposal.
 */
function modelYear(vin: Vin): number | null {
  const index = yearCodes.indexOf(vin.charAt(9));
  if (index === -1) return null;
  return (/\d/.test(vin.charAt(6)) ? 1980 : 2010) + index;
}

function makerIdentifier(vin: Vin): string {
  return vin.charAt(2) === '9' ? `${vin.slice(0, 3)}${vin.slice(11, 14)}` : vin.slice(0, 3);
}
