import {
  type Clash,
  clashesIn,
  formatDecimal,
  formatMinor,
  type ListedRate,
  materials,
  type Problem,
  vehicleParts,
} from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { problemOfRate, readRateFields, type WrittenRate } from './rate-fields.ts';

/** A row of a price list as somebody wrote it. */
export interface ListRowInput extends WrittenRate {
  readonly takesFurtherRepair: boolean;
  readonly repairsDamage: boolean;
}

/** A row with where it stands: for the field of a problem, and for the sentence. */
export interface PlacedRow {
  /** E.g. `rates.3`. */
  readonly place: string;
  /** E.g. “Row 7”. */
  readonly words: string;
  readonly row: ListRowInput;
}

/** One thing to correct. `field` is the place with the column, e.g. `rates.3.list`. */
export interface RowProblem {
  readonly field: string;
  readonly detail: string;
}

export interface ReadRows {
  readonly rows: readonly ListedRate[];
  readonly problems: readonly RowProblem[];
}

/** A list has at most so many rows. */
export const listRowsMax = 2000;

/** A row as it would be written: read again, it is the same. */
export function asWritten(rate: ListedRate, currency: string): ListRowInput {
  const inches = (size: ListedRate['overInches']) => (size === null ? null : formatDecimal(size));
  return {
    code: rate.code,
    repair: rate.repair,
    family: rate.family,
    overInches: inches(rate.overInches),
    toInches: inches(rate.toInches),
    part: rate.part,
    material: rate.material,
    list: formatMinor(rate.listMinor, currency),
    materialsPercent: formatDecimal(rate.materialsPercent),
    takesFurtherRepair: rate.takesFurtherRepair,
    repairsDamage: rate.repairsDamage,
  };
}

/** Reads all rows, and says all that is wrong with any of them: by itself, or together with another. */
export function readListRows(placed: readonly PlacedRow[], currency: string): ReadRows {
  const read: { readonly at: PlacedRow; readonly rate: ListedRate }[] = [];
  const problems: RowProblem[] = [];
  for (const at of placed) {
    const { rate, wrong } = readRow(at.row, currency);
    if (rate !== null) read.push({ at, rate });
    for (const problem of wrong) problems.push(placedProblem(at, problem.field ?? 'code', problem.detail));
  }
  const clashes = clashesIn(read.map(({ rate }) => rate)).flatMap((clash) => {
    const [earlier, later] = [read[clash.earlier], read[clash.later]];
    return earlier === undefined || later === undefined ? [] : [clashProblem(clash, earlier, later)];
  });
  const order = new Map(placed.map(({ place }, index) => [place, index]));
  const placeOf = ({ field }: RowProblem) => order.get(field.slice(0, field.lastIndexOf('.'))) ?? 0;
  return {
    rows: read.map(({ rate }) => rate),
    problems: [...problems, ...clashes].toSorted((a, b) => placeOf(a) - placeOf(b)),
  };
}

/** The refusal of a list with something to correct: all of it, in the order of the rows. */
export function rowsProblem(problems: readonly RowProblem[]): Problem {
  const [first] = problems;
  if (first === undefined) throw new Error('a list without a problem is not refused');
  const detail =
    problems.length === 1
      ? first.detail
      : `${problems.length} things are to be corrected, and nothing was saved. The first: ${first.detail}`;
  return { code: 'invalid_input', detail, field: first.field, errors: problems };
}

function readRow(
  row: ListRowInput,
  currency: string,
): { readonly rate: ListedRate | null; readonly wrong: readonly Problem[] } {
  const { takesFurtherRepair, repairsDamage } = row;
  const part = keyOf(vehicleParts, row.part);
  const material = keyOf(materials, row.material);
  const fields = readRateFields({ ...row, part, material }, currency);
  const read = everyResult(fields);
  if (!read.ok)
    return {
      rate: null,
      wrong: Object.values(fields).flatMap((field) => (field.ok ? [] : [field.problem])),
    };
  const problem = problemOfRate(read.value);
  return problem === null
    ? { rate: { ...read.value, takesFurtherRepair, repairsDamage }, wrong: [] }
    : { rate: null, wrong: [problem] };
}

/** The word of a closed list by which it is stored, where it was written as pages show it. */
function keyOf(words: Readonly<Record<string, string>>, text: string | null): string | null {
  const written = (text ?? '').trim().toLowerCase();
  const known = Object.entries(words).find(
    ([key, label]) => key === written || label.toLowerCase() === written,
  );
  return known?.[0] ?? text;
}

interface ReadRow {
  readonly at: PlacedRow;
  readonly rate: ListedRate;
}

function clashProblem(clash: Clash, earlier: ReadRow, later: ReadRow): RowProblem {
  return clash.over === 'code'
    ? placedProblem(
        later.at,
        'code',
        `${later.rate.code} stands in ${inSentence(earlier.at)} already. A code stands once in a list.`,
      )
    : placedProblem(
        later.at,
        'over_inches',
        `${later.rate.code} and ${earlier.rate.code} (${inSentence(earlier.at)}) are of one family and cover the same sizes. Change the sizes of one, or its family, part or material.`,
      );
}

function placedProblem({ place, words }: PlacedRow, column: string, detail: string): RowProblem {
  return { field: `${place}.${column}`, detail: `${words}, ${columnWords(column)}: ${detail}` };
}

function columnWords(column: string): string {
  return column.replaceAll('_', ' ');
}

function inSentence({ words }: PlacedRow): string {
  return /^Row /.test(words) ? `${words.charAt(0).toLowerCase()}${words.slice(1)}` : words;
}
