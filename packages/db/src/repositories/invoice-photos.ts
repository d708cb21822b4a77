import type { Day, LineId, PhotoId, WorkOrderId } from '@grainwright/domain';
import { and, asc, eq, inArray, isNotNull, or, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { businesses } from '../schema/accounts.ts';
import { shownCopies, standingCoverings } from '../schema/coverings.ts';
import { photos } from '../schema/evidence.ts';
import { deletions } from '../schema/retention.ts';
import { deletionOf, type ShownDeletion, shownDeletion } from './deletions.ts';
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
        sql`exists (select 1 from ${shownCopies} d
          where d.tenant_id = ${photos.tenantId} and d.photo_id = ${photos.id} and d.kind = 'view')`,
      ),
    )
    .orderBy(asc(photos.receivedAt), asc(photos.id))
    .limit(photosMax);
  return rows.flatMap(({ purpose, ...row }) =>
    purpose === 'before' || purpose === 'after' ? [{ ...row, purpose }] : [],
  );
}

/** A picture before or after that is not shown as it was taken: parts are covered, or a rule let go of it. */
export interface AlteredPhoto {
  readonly workOrderId: WorkOrderId;
  readonly lineId: LineId | null;
  readonly purpose: 'before' | 'after';
  readonly sha256: string;
  readonly coveredOn: Day | null;
  readonly deletion: ShownDeletion | null;
}

/** Of the before and after pictures of these work orders those that are covered or gone, in the order they came in. */
export async function listAltered(
  tx: TenantTransaction,
  workOrderIds: readonly WorkOrderId[],
): Promise<readonly AlteredPhoto[]> {
  const coveredOn = sql<Day | null>`(${standingCoverings.madeAt} at time zone ${businesses.timeZone})::date`;
  const rows = await tx
    .select({
      workOrderId: photos.workOrderId,
      lineId: photos.lineId,
      purpose: photos.purpose,
      sha256: photos.sha256,
      coveredOn,
      deletion: shownDeletion,
    })
    .from(photos)
    .innerJoin(businesses, eq(businesses.tenantId, photos.tenantId))
    .leftJoin(
      standingCoverings,
      and(eq(standingCoverings.tenantId, photos.tenantId), eq(standingCoverings.photoId, photos.id)),
    )
    .leftJoin(deletions, deletionOf('photos', photos))
    .where(
      and(
        eq(photos.tenantId, tx.tenantId),
        inArray(photos.workOrderId, [...workOrderIds]),
        inArray(photos.purpose, ['before', 'after']),
        ofNoWithdrawnLine,
        or(isNotNull(standingCoverings.id), isNotNull(deletions.id)),
      ),
    )
    .orderBy(asc(photos.receivedAt), asc(photos.id))
    .limit(photosMax);
  return rows.flatMap(({ purpose, ...row }) =>
    purpose === 'before' || purpose === 'after' ? [{ ...row, purpose }] : [],
  );
}
