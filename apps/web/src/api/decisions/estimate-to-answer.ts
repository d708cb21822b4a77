import { formatMinor } from '@grainwright/domain';
import type { ToApproveView } from '@grainwright/operations';
import type { z } from 'zod';
import type { estimateToAnswer } from './schemas.ts';

export function answerEstimateToAnswer(row: ToApproveView): z.input<typeof estimateToAnswer> {
  return {
    id: row.id,
    number: row.number.toString(),
    vehicle: row.vehicle,
    own_number_kind: row.numbers.ownKind,
    own_number: row.numbers.own,
    ro_number: row.numbers.ro,
    po_number: row.numbers.po,
    hold_reason: row.holdReason,
    lines: [...row.lines],
    photo_id: row.photoId,
    photo_count: row.photoCount,
    version: row.version,
    currency: row.currency,
    total: formatMinor(row.totalMinor, row.currency),
    net: formatMinor(row.netMinor, row.currency),
    quoted: row.quotedMinor === null ? null : formatMinor(row.quotedMinor, row.currency),
    approved_before:
      row.approvedBeforeMinor === null ? null : formatMinor(row.approvedBeforeMinor, row.currency),
    compared_with_limit: formatMinor(row.comparedMinor, row.currency),
    within_limit: row.withinLimit,
    asked_at: row.askedAt,
    age_days: row.ageDays,
    expires_on: row.expiresOn,
    expired: row.expired,
  };
}
