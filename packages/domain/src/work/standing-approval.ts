import type { Period } from '../dates.ts';
import type { StandingApprovalId } from '../ids.ts';
import { displayMoney } from '../money/money.ts';

/** What an account agreed to beforehand: up to these limits nobody has to be asked. Null: no limit of that kind. */
export interface StandingLimits {
  readonly perVehicleMinor: bigint | null;
  readonly perVisitMinor: bigint | null;
  readonly perMonthMinor: bigint | null;
}

export interface StandingApproval extends StandingLimits {
  readonly id: StandingApprovalId;
  readonly inForce: Period;
}

/**
 * What the limits are compared with: repairs with their minimum and after-hours, before trip and tax, of this vehicle,
 * and with it of the visit and of the calendar month as far as approved by rule. Minor units.
 */
export interface StandingSums {
  readonly vehicleMinor: bigint;
  readonly visitMinor: bigint;
  readonly monthMinor: bigint;
}

export type StandingLimitKind = 'vehicle' | 'visit' | 'month';

export interface ExceededLimit {
  readonly limit: StandingLimitKind;
  readonly limitMinor: bigint;
  readonly reachedMinor: bigint;
  readonly overMinor: bigint;
}

/** Every limit that would be passed; none: all that are given hold, and only then the approval covers it. Common practice of the trade. */
export function exceededLimits(limits: StandingLimits, sums: StandingSums): readonly ExceededLimit[] {
  return [
    ...exceeded('vehicle', limits.perVehicleMinor, sums.vehicleMinor),
    ...exceeded('visit', limits.perVisitMinor, sums.visitMinor),
    ...exceeded('month', limits.perMonthMinor, sums.monthMinor),
  ];
}

function exceeded(
  limit: StandingLimitKind,
  limitMinor: bigint | null,
  reachedMinor: bigint,
): readonly ExceededLimit[] {
  if (limitMinor === null || reachedMinor <= limitMinor) return [];
  return [{ limit, limitMinor, reachedMinor, overMinor: reachedMinor - limitMinor }];
}

/** The limits in words: “up to $250.00 a vehicle and $1,200.00 a visit”. */
export function standingWords(limits: StandingLimits, currency: string): string {
  const parts = [
    ...limitPart(limits.perVehicleMinor, 'vehicle', currency),
    ...limitPart(limits.perVisitMinor, 'visit', currency),
    ...limitPart(limits.perMonthMinor, 'month', currency),
  ];
  return `up to ${new Intl.ListFormat('en-US', { type: 'conjunction' }).format(parts)}`;
}

function limitPart(minor: bigint | null, kind: StandingLimitKind, currency: string): readonly string[] {
  return minor === null ? [] : [`${displayMoney(minor, currency)} a ${kind}`];
}

/** One limit that is passed, in words: “this vehicle comes to $305.53, $55.53 over the limit of $250.00 a vehicle”. */
export function exceededWords(
  { limit, limitMinor, reachedMinor, overMinor }: ExceededLimit,
  currency: string,
): string {
  const amount = (minor: bigint) => displayMoney(minor, currency);
  const what = { vehicle: 'this vehicle', visit: 'the visit', month: 'the month' }[limit];
  return `${what} comes to ${amount(reachedMinor)}, ${amount(overMinor)} over the limit of ${amount(limitMinor)} a ${limit}`;
}
