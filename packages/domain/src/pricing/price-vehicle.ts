import type { LineId } from '../ids.ts';
import { allocate } from '../money/allocation.ts';
import { assertShare, type Decimal, decimal } from '../money/decimal.ts';
import { displayPercent, formatMinor, roundHalfUp, sumMinor } from '../money/money.ts';
import { ok, type Result, refuse } from '../result.ts';
import type { PriceTerms, Tier } from './price-book.ts';
import type { PricedLine } from './price-line.ts';

/** A line of an estimate: labor and materials always add up to the net. */
export interface EstimateLine extends PricedLine {
  /** 100 for a repair that the further-repair discount leaves alone. */
  readonly furtherPercent: Decimal;
  readonly netMinor: bigint;
  readonly laborMinor: bigint;
  readonly materialsMinor: bigint;
  /** Why this price: the whole way from list to net, in words, ending in the net. */
  readonly trail: string;
}

/** What lifts a vehicle to its minimum; all of it is labor. */
export interface MinimumLine {
  readonly code: 'MIN';
  readonly netMinor: bigint;
  readonly trail: string;
}

/** What pricing a vehicle needs besides its lines; stored with an estimate's version. */
export interface VehicleRules {
  readonly furtherRepairPercents: readonly Decimal[];
  readonly vehicleMinimumMinor: bigint;
  /** The most that the lines come to; null: no such limit. */
  readonly vehicleCapMinor: bigint | null;
  /** A rework is without charge: its lines come to zero, and it has no minimum. */
  readonly rework: boolean;
}

export interface VehiclePrice {
  /** In the order written. */
  readonly lines: readonly EstimateLine[];
  readonly minimum: MinimumLine | null;
  /** Lines and minimum. */
  readonly repairsMinor: bigint;
  readonly laborMinor: bigint;
  readonly materialsMinor: bigint;
  /** The cap that the lines were lowered to, where they were. */
  readonly capMinor?: bigint;
}

export function vehicleRules(
  tier: Pick<Tier, 'vehicleMinimumMinor' | 'vehicleCapMinor'>,
  terms: Pick<PriceTerms, 'furtherRepairPercents'>,
  rework = false,
): VehicleRules {
  return {
    furtherRepairPercents: terms.furtherRepairPercents,
    vehicleMinimumMinor: tier.vehicleMinimumMinor,
    vehicleCapMinor: tier.vehicleCapMinor,
    rework,
  };
}

/**
 * Price rules 4 to 6. The dearest repair of the vehicle is charged in full, the next ones at the further-repair
 * percents (equal prices in the order written; each rounded); lines above the vehicle's cap are lowered to it in
 * proportion, by largest remainder; a vehicle below its minimum gets the difference as labor; every line splits into
 * materials (rounded) and labor (the rest). Common practice of the trade.
 */
export function priceVehicle(lines: readonly PricedLine[], rules: VehicleRules): VehiclePrice {
  const percents = furtherPercents(lines, rules.furtherRepairPercents);
  const uncapped = lines.map((line, index) =>
    rules.rework
      ? withoutCharge(line)
      : estimateLine(line, percents.get(index) ?? { percent: decimal('100'), place: null }),
  );
  const capMinor = capOf(uncapped, rules);
  const priced = capMinor === null ? uncapped : lowerTo(capMinor, uncapped);
  const linesMinor = sumMinor(priced.map((line) => line.netMinor));
  return vehiclePrice(priced, minimumLine(linesMinor, rules), capMinor);
}

/** Adds a vehicle up from lines and a minimum that are settled. */
export function vehiclePrice(
  lines: readonly EstimateLine[],
  minimum: MinimumLine | null,
  capMinor: bigint | null,
): VehiclePrice {
  const materialsMinor = sumMinor(lines.map((line) => line.materialsMinor));
  const repairsMinor = sumMinor(lines.map((line) => line.netMinor)) + (minimum?.netMinor ?? 0n);
  return {
    lines,
    minimum,
    repairsMinor,
    laborMinor: repairsMinor - materialsMinor,
    materialsMinor,
    ...(capMinor === null ? {} : { capMinor }),
  };
}

/** The cap that lines at their further-repair percents are lowered to; null where they stay as they are. */
export function capOf(
  lines: readonly Pick<EstimateLine, 'beforeFurtherMinor' | 'furtherPercent'>[],
  { vehicleCapMinor, rework }: Pick<VehicleRules, 'vehicleCapMinor' | 'rework'>,
): bigint | null {
  if (vehicleCapMinor === null || rework) return null;
  const uncapped = lines.map((line) => roundHalfUp(line.beforeFurtherMinor, line.furtherPercent));
  return sumMinor(uncapped) > vehicleCapMinor ? vehicleCapMinor : null;
}

/**
 * Prices a stored version again with only the approved lines, from the version alone: no price book is asked.
 * No line approved gives a price of zero. Refuses an id that is not in the version.
 */
export function repriceApproved(
  version: { readonly lines: readonly PricedLine[]; readonly rules: VehicleRules },
  approvedLineIds: readonly LineId[],
): Result<VehiclePrice> {
  const known = new Set(version.lines.map((line) => line.lineId));
  if (approvedLineIds.some((id) => !known.has(id)))
    return refuse('invalid_input', 'A chosen line is not part of this estimate. Open it again.', 'lines');
  const approved = new Set(approvedLineIds);
  return ok(
    priceVehicle(
      version.lines.filter((line) => approved.has(line.lineId)),
      version.rules,
    ),
  );
}

/** The part of a line that is materials (rounded) and the part that is labor (the rest). */
export function splitLine(
  netMinor: bigint,
  materialsPercent: Decimal,
): { readonly laborMinor: bigint; readonly materialsMinor: bigint } {
  assertShare(materialsPercent, 'the materials share');
  const materialsMinor = roundHalfUp(netMinor, materialsPercent);
  return { laborMinor: netMinor - materialsMinor, materialsMinor };
}

/** Prices a line at a further-repair percent that is already settled. */
export function lineAtPercent(line: PricedLine, percent: Decimal, words: string): EstimateLine {
  const netMinor = roundHalfUp(line.beforeFurtherMinor, percent);
  return {
    ...line,
    furtherPercent: percent,
    netMinor,
    ...splitLine(netMinor, line.materialsPercent),
    trail: `${line.beforeFurtherTrail}, ${words} → ${formatMinor(netMinor)}`,
  };
}

function lowerTo(capMinor: bigint, lines: readonly EstimateLine[]): readonly EstimateLine[] {
  const nets = allocate(
    capMinor,
    lines.map((line) => line.netMinor),
  );
  return lines.map((line, index) =>
    lineLoweredTo(nets[index] ?? 0n, line, `vehicle cap ${formatMinor(capMinor)}`),
  );
}

/** A line at a lower net, which keeps its share of materials; `words` tell why. */
export function lineLoweredTo(netMinor: bigint, line: EstimateLine, words: string): EstimateLine {
  return {
    ...line,
    netMinor,
    ...splitLine(netMinor, line.materialsPercent),
    trail: `${line.trail}, ${words} → ${formatMinor(netMinor)}`,
  };
}

interface Further {
  readonly percent: Decimal;
  /** 0 for the dearest repair; null for a line that takes no part. */
  readonly place: number | null;
}

function furtherPercents(lines: readonly PricedLine[], percents: readonly Decimal[]): Map<number, Further> {
  const last = percents.at(-1);
  if (last === undefined) throw new Error('no further-repair percents');
  for (const percent of percents) assertShare(percent, 'a further-repair percent');
  const dearestFirst = lines
    .map((line, index) => ({ line, index }))
    .filter(({ line }) => line.takesFurtherRepair)
    .toSorted((a, b) => {
      const difference = b.line.beforeFurtherMinor - a.line.beforeFurtherMinor;
      return difference < 0n ? -1 : difference > 0n ? 1 : 0;
    });
  return new Map(
    dearestFirst.map(({ index }, place) => [index, { percent: percents[place] ?? last, place }]),
  );
}

function estimateLine(line: PricedLine, further: Further): EstimateLine {
  if (further.place === null) return lineAtPercent(line, further.percent, 'no further-repair discount');
  const words = further.place === 0 ? 'first repair' : 'further repair';
  return lineAtPercent(line, further.percent, `${words} ${displayPercent(further.percent)}`);
}

function withoutCharge(line: PricedLine): EstimateLine {
  return {
    ...line,
    furtherPercent: decimal('100'),
    netMinor: 0n,
    laborMinor: 0n,
    materialsMinor: 0n,
    trail: `${line.beforeFurtherTrail}, rework without charge → ${formatMinor(0n)}`,
  };
}

function minimumLine(linesMinor: bigint, rules: VehicleRules): MinimumLine | null {
  const shortMinor = rules.vehicleMinimumMinor - linesMinor;
  if (rules.rework || linesMinor === 0n || shortMinor <= 0n) return null;
  return {
    code: 'MIN',
    netMinor: shortMinor,
    trail: `vehicle minimum ${formatMinor(rules.vehicleMinimumMinor)}, repairs ${formatMinor(linesMinor)} → ${formatMinor(shortMinor)}`,
  };
}
