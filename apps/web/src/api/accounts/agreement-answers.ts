import { formatMinor } from '@grainwright/domain';
import type { StandingApprovalView } from '@grainwright/operations';
import type { z } from 'zod';
import type { standingApproval } from './agreement-schemas.ts';

export function answerStandingApproval(
  view: StandingApprovalView,
  currency: string,
): z.input<typeof standingApproval> {
  const amount = (minor: bigint | null) => (minor === null ? null : formatMinor(minor, currency));
  return {
    id: view.id,
    per_vehicle: amount(view.perVehicleMinor),
    per_visit: amount(view.perVisitMinor),
    per_month: amount(view.perMonthMinor),
    valid_from: view.validFrom,
    valid_to: view.validTo,
    text: view.note,
    words: view.words,
    standing: view.standing,
  };
}
