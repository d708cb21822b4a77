import type { LineId, PhotoId, WorkOrderId } from '@grainwright/domain';
import { and, asc, eq, inArray, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { photoDerivatives, photos } from '../schema/evidence.ts';
import { ofNoWithdrawnLine } from './photos.ts';

/** A picture of the damage or of the repair, whose copies for accounts are there. */
export interface InvoicePhoto {
  readonly id: PhotoId;
  readonly workOrderId: WorkOrderId;
  readonly lineId: LineId | null;
  readonly purpose: 'before' | 'after';
}

const photosMax = 1000;

/** Before and after pictures of these work orders, in the order they came in. */
export async function listBeforeAndAfter(
  tx: TenantTransaction,
  workOrderIds: readonly WorkOrderId[],
): Promise<readonly InvoicePhoto[]> {
  const rows = await tx
    .select({
      id: photos.id,
      workOrderId: photos.workOrderId,
      lineId: photos.lineId,
      purpose: photos.purpose,
    })
    .from(photos)
    .where(
      and(
        eq(photos.tenantId, tx.tenantId),
        inArray(photos.workOrderId, [...workOrderIds]),
        inArray(photos.purpose, ['before', 'after']),
        ofNoWithdrawnLine,
        sql`exists (select 1 from ${photoDerivatives} d
          where d.tenant_id = ${photos.tenantId} and d.photo_id = ${photos.id} and d.kind = 'view')`,
      ),
    )
    .orderBy(asc(photos.receivedAt), asc(photos.id))
    .limit(photosMax);
  return rows.flatMap(({ purpose, ...row }) =>
    purpose === 'before' || purpose === 'after' ? [{ ...row, purpose }] : [],
  );
}
