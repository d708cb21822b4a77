import {
  compareDecimals,
  type Decimal,
  dayWords,
  decimal,
  ok,
  type Period,
  parseDay,
  parseDecimal,
  type Result,
  refuse,
} from '@grainwright/domain';
import { everyResult } from './every-result.ts';

/** Words without the space around them. `what` names them in the refusal: “Write the name.” */
export function readWords(text: string, field: string, what: string, lengthMax: number): Result<string> {
  const words = text.trim();
  if (words === '') return refuse('invalid_input', `Write ${what}.`, field);
  if (words.length > lengthMax)
    return refuse(
      'invalid_input',
      `Write ${what} in at most ${lengthMax} characters; this is ${words.length}.`,
      field,
    );
  if (!words.isWellFormed() || /[^\P{Cc}\n\r\t]/u.test(words))
    return refuse(
      'invalid_input',
      `There is a sign in it that can’t be printed. Write ${what} again.`,
      field,
    );
  return ok(words);
}

/** As `readWords`, where nothing is fine too. */
export function readOptionalWords(
  text: string,
  field: string,
  what: string,
  lengthMax: number,
): Result<string> {
  return text.trim() === '' ? ok('') : readWords(text, field, what, lengthMax);
}

export interface DatedInput {
  readonly validFrom: string;
  /** The last day; null while it has no end. */
  readonly validTo: string | null;
}

/** First and last day, refused with `dates_out_of_order` when the end is before the start. */
export function readPeriod(input: DatedInput): Result<Period> {
  const days = everyResult({
    from: parseDay(input.validFrom.trim(), 'valid_from'),
    to: input.validTo === null ? ok(null) : parseDay(input.validTo.trim(), 'valid_to'),
  });
  if (!days.ok) return days;
  const { from, to } = days.value;
  if (to !== null && to < from)
    return refuse(
      'dates_out_of_order',
      `It would end on ${dayWords(to)}, before it starts on ${dayWords(from)}. Check both dates.`,
      'valid_to',
    );
  return ok({ from, to });
}

/** A number between two bounds with at most so many decimals, as it can be stored without rounding. */
export function readNumber(
  text: string,
  field: string,
  bounds: { readonly least: string; readonly most: string; readonly decimals: number },
): Result<Decimal> {
  const parsed = parseDecimal(text, field);
  if (!parsed.ok) return parsed;
  const { least, most, decimals } = bounds;
  if (compareDecimals(parsed.value, decimal(least)) < 0 || compareDecimals(parsed.value, decimal(most)) > 0)
    return refuse('invalid_input', `Write a number from ${least} to ${most}.`, field);
  if (parsed.value.scale > decimals && !endsInZeros(parsed.value, decimals))
    return refuse(
      'invalid_input',
      `Write it with at most ${decimals} ${decimals === 1 ? 'decimal' : 'decimals'}.`,
      field,
    );
  return parsed;
}

export function readPercent(text: string, field: string, least = '0', most = '100'): Result<Decimal> {
  return readNumber(text.replace('%', ''), field, { least, most, decimals: 3 });
}

function endsInZeros(value: Decimal, decimals: number): boolean {
  return value.digits % 10n ** BigInt(value.scale - decimals) === 0n;
}
