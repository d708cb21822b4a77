import { compareDecimals, type Decimal } from '../money/decimal.ts';
import type { VehiclePart } from '../work/damage.ts';
import type { Material } from '../work/material.ts';
import type { Rate } from './price-book.ts';

/** One row of a price list: a rate without its days. Amounts are minor units. */
export interface ListedRate {
  readonly code: string;
  readonly repair: string;
  /** Rates that differ only by size share a family; the measured size picks one. */
  readonly family: string;
  /** Inches, over and up to; both null where nothing is measured. */
  readonly overInches: Decimal | null;
  readonly toInches: Decimal | null;
  /** The only part and the only material it is for; null: any. */
  readonly part: VehiclePart | null;
  readonly material: Material | null;
  readonly listMinor: bigint;
  readonly materialsPercent: Decimal;
  readonly takesFurtherRepair: boolean;
  readonly repairsDamage: boolean;
}

type Sized = Pick<ListedRate, 'family' | 'overInches' | 'toInches' | 'part' | 'material'>;

/** Two rows of a list that can't both stand, by their places in it. */
export interface Clash {
  readonly earlier: number;
  readonly later: number;
  readonly over: 'code' | 'sizes';
}

/**
 * Every row that another before it makes impossible: the same code twice, or sizes that overlap in one family for the
 * same part and material, where a repair without a size can have only one rate. One clash a row.
 */
export function clashesIn(rows: readonly ListedRate[]): readonly Clash[] {
  const seen = new Map<string, number[]>();
  const codes = new Map<string, number>();
  const clashes: Clash[] = [];
  rows.forEach((row, later) => {
    const rivals = seen.get(groupOf(row)) ?? [];
    const sameCode = codes.get(row.code);
    const sameSizes = rivals.find((index) => {
      const rival = rows[index];
      return rival !== undefined && sizesOverlap(rival, row);
    });
    if (sameCode !== undefined) clashes.push({ earlier: sameCode, later, over: 'code' });
    else if (sameSizes !== undefined) clashes.push({ earlier: sameSizes, later, over: 'sizes' });
    if (sameCode === undefined) codes.set(row.code, later);
    seen.set(groupOf(row), [...rivals, later]);
  });
  return clashes;
}

/** Whether two rates are of one family, part and material and cover a size in common. A rate without a size covers all. */
export function sizesOverlap(a: Sized, b: Sized): boolean {
  if (a.family !== b.family || a.part !== b.part || a.material !== b.material) return false;
  if (a.overInches === null || a.toInches === null || b.overInches === null || b.toInches === null)
    return true;
  return compareDecimals(a.overInches, b.toInches) < 0 && compareDecimals(b.overInches, a.toInches) < 0;
}

/** Sizes between two rates of a family that neither covers: such a repair is priced by hand. */
export interface SizeGap {
  readonly below: ListedRate;
  readonly above: ListedRate;
}

/** The gaps of every family, in the order of the list. Not wrong, but rarely meant. */
export function sizeGapsIn(rows: readonly ListedRate[]): readonly SizeGap[] {
  return [...Map.groupBy(rows, groupOf).values()].flatMap((group) => {
    const inOrder = group.toSorted(bySize);
    return inOrder.flatMap((above, index) => {
      const below = inOrder[index - 1];
      if (below?.toInches == null || above.overInches === null) return [];
      return compareDecimals(above.overInches, below.toInches) > 0 ? [{ below, above }] : [];
    });
  });
}

/** The rows of a list as pages and files show them: by family, the smallest size first. */
export function inListOrder<Row extends ListedRate>(rows: readonly Row[]): readonly Row[] {
  return rows.toSorted(
    (a, b) => compareText(a.family, b.family) || bySize(a, b) || compareText(a.code, b.code),
  );
}

/** How a price list differs from the one it follows. */
export interface ListChange<Before extends ListedRate = ListedRate> {
  readonly changed: readonly { readonly before: Before; readonly after: ListedRate }[];
  readonly added: readonly ListedRate[];
  readonly ended: readonly Before[];
}

export function compareLists<Before extends ListedRate>(
  before: readonly Before[],
  after: readonly ListedRate[],
): ListChange<Before> {
  const old = new Map(before.map((rate) => [rate.code, rate]));
  const kept = new Set(after.map((rate) => rate.code));
  return {
    changed: after.flatMap((rate) => {
      const was = old.get(rate.code);
      return was === undefined || sameRate(was, rate) ? [] : [{ before: was, after: rate }];
    }),
    added: after.filter((rate) => !old.has(rate.code)),
    ended: before.filter((rate) => !kept.has(rate.code)),
  };
}

/** Whether two rows say the same; 12 and 12.000 are the same number. */
export function sameRate(a: ListedRate, b: ListedRate): boolean {
  return differingColumns(a, b).length === 0;
}

/** In what two rows differ; 12 and 12.000 are the same. */
export function differingColumns(a: ListedRate, b: ListedRate): readonly (keyof ListedRate)[] {
  const numbers = ['overInches', 'toInches', 'materialsPercent'] as const;
  const others = [
    'code',
    'repair',
    'family',
    'part',
    'material',
    'listMinor',
    'takesFurtherRepair',
    'repairsDamage',
  ] as const;
  return [
    ...others.filter((column) => a[column] !== b[column]),
    ...numbers.filter((column) => !sameNumber(a[column], b[column])),
  ];
}

/** The row as a rate that counts in a period. */
export function asRate(row: ListedRate, inForce: Rate['inForce']): Rate {
  const { overInches, toInches, repairsDamage: _photos, ...rate } = row;
  const band = overInches === null || toInches === null ? null : { overInches, toInches };
  return { ...rate, band, inForce };
}

function groupOf({ family, part, material }: Sized): string {
  return JSON.stringify([family, part, material]);
}

function bySize(a: Sized, b: Sized): number {
  if (a.overInches === null || b.overInches === null)
    return (a.overInches === null ? 0 : 1) - (b.overInches === null ? 0 : 1);
  return compareDecimals(a.overInches, b.overInches);
}

function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

function sameNumber(a: Decimal | null, b: Decimal | null): boolean {
  return a === null || b === null ? a === b : compareDecimals(a, b) === 0;
}
