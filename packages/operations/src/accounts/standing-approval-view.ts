import type { StandingApprovalRow } from '@grainwright/db';
import { type Day, type StandingApprovalId, type StandingLimits, standingWords } from '@grainwright/domain';

/** What an account agreed to beforehand. Limits are minor units; null: no limit of that kind. */
export interface StandingApprovalView extends StandingLimits {
  readonly id: StandingApprovalId;
  readonly validFrom: Day;
  readonly validTo: Day | null;
  readonly note: string;
  /** The limits in words. */
  readonly words: string;
  /** `taken_back`: it never counted. */
  readonly standing: 'not_yet' | 'in_force' | 'ended' | 'taken_back';
}

export function standingApprovalView(
  row: StandingApprovalRow,
  today: Day,
  currency: string,
): StandingApprovalView {
  const { id, perVehicleMinor, perVisitMinor, perMonthMinor, validFrom, validTo, note } = row;
  const limits = { perVehicleMinor, perVisitMinor, perMonthMinor };
  const words = standingWords(limits, currency);
  return { id, ...limits, validFrom, validTo, note, words, standing: standingOn(row, today) };
}

function standingOn({ validFrom, validTo }: StandingApprovalRow, today: Day) {
  if (validTo !== null && validTo < validFrom) return 'taken_back';
  if (today < validFrom) return 'not_yet';
  return validTo !== null && validTo < today ? 'ended' : 'in_force';
}
