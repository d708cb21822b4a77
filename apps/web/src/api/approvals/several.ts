import type { ApprovedAsShown } from '@grainwright/operations';
import type { z } from 'zod';
import type { approvalsBody } from './schemas.ts';

/** Several estimates as they were shown, as the body names them. */
export function approvedIn({ estimates }: z.infer<typeof approvalsBody>): readonly ApprovedAsShown[] {
  return estimates.map((each) => ({
    decisionId: each.id,
    workOrderId: each.work_order_id,
    versionId: each.version_id,
    digest: each.digest,
    total: each.total,
    photoIds: each.photo_ids,
  }));
}
