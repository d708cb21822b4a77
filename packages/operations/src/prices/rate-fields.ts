import {
  compareDecimals,
  type ListedRate,
  materials,
  ok,
  type Problem,
  parseMoney,
  type Result,
  refuse,
  vehicleParts,
} from '@grainwright/domain';
import { readNumber, readPercent, readWords } from '../read-input.ts';
import { readOptionalChoice } from '../work-orders/read-choice.ts';
import { readRateCode } from './read-code.ts';

/** A rate as it is written down, without its days. */
export interface WrittenRate {
  readonly code: string;
  readonly repair: string;
  /** Rates that differ only by size share a family; the measured size picks one. */
  readonly family: string;
  /** The band in inches, over and up to; both null where nothing is measured. */
  readonly overInches: string | null;
  readonly toInches: string | null;
  /** The only part and the only material it is for, by their words in lines; null: any. */
  readonly part: string | null;
  readonly material: string | null;
  readonly list: string;
  readonly materialsPercent: string;
}

/** What `WrittenRate` says, read. */
export type RateFields = Omit<ListedRate, 'takesFurtherRepair' | 'repairsDamage'>;

/** Each field of a rate by itself: what it says, or what is wrong with it. */
export function readRateFields(
  input: WrittenRate,
  currency: string,
): { readonly [Name in keyof RateFields]: Result<RateFields[Name]> } {
  const inches = (text: string | null, field: string) =>
    text === null ? ok(null) : readNumber(text, field, { least: '0', most: '500', decimals: 3 });
  return {
    code: readRateCode(input.code),
    repair: readWords(input.repair, 'repair', 'what the repair is', 200),
    family: readWords(input.family, 'family', 'the family of repairs', 60),
    overInches: inches(input.overInches, 'over_inches'),
    toInches: inches(input.toInches, 'to_inches'),
    part: readOptionalChoice(
      vehicleParts,
      input.part ?? '',
      'part',
      'Choose the part from the list, or none if the rate is for any.',
    ),
    material: readOptionalChoice(
      materials,
      input.material ?? '',
      'material',
      'Choose the material from the list, or none if the rate is for any.',
    ),
    listMinor: parseMoney(input.list, { currency, field: 'list' }),
    materialsPercent: readPercent(input.materialsPercent, 'materials_percent'),
  };
}

/** What is wrong with a rate whose fields can all be read; null when nothing is. */
export function problemOfRate(rate: RateFields): Problem | null {
  const refused = checkTogether(rate);
  return refused.ok ? null : refused.problem;
}

function checkTogether({ code, listMinor, overInches, toInches }: RateFields): Result<void> {
  if (listMinor === 0n)
    return refuse(
      'invalid_money',
      `${code} has no price. Leave it out: what has no rate is priced by hand.`,
      'list',
    );
  if ((overInches === null) !== (toInches === null))
    return refuse('invalid_size', 'Write both ends of the size, or neither.', 'to_inches');
  if (overInches !== null && toInches !== null && compareDecimals(toInches, overInches) <= 0)
    return refuse('invalid_size', 'The larger end of the size must be above the smaller one.', 'to_inches');
  return ok(undefined);
}
