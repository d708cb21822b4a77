import {
  findDerivative,
  findPhoto,
  findShownDeletion,
  findWorkOrder,
  listAnswersWith,
  listCoveredCopies,
  listCoverings,
  type PhotoRow,
  type ShownDeletion,
  type TenantTransaction,
} from '@grainwright/db';
import {
  type CoveredRegion,
  type CoveringId,
  type Instant,
  ok,
  type PhotoId,
  type Result,
  refuse,
  type WorkOrderId,
} from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';

export interface CoveringView {
  readonly id: CoveringId;
  readonly number: number;
  /** None: the covering was taken away. */
  readonly regions: readonly CoveredRegion[];
  readonly reason: string;
  readonly madeBy: string;
  readonly madeAt: Instant;
  /** Whether its copies are made; what takes a covering away needs none. */
  readonly ready: boolean;
}

export interface PhotoCoverings extends Pick<PhotoRow, 'id' | 'purpose' | 'width' | 'height' | 'sha256'> {
  readonly workOrderId: WorkOrderId;
  readonly number: bigint;
  /** Whether the staff's own copy for looking at is there yet. */
  readonly copyReady: boolean;
  /** The newest first. */
  readonly coverings: readonly CoveringView[];
  /** Who approved or signed with this picture before them, and when; what they saw stays on record by its digest. */
  readonly answers: Awaited<ReturnType<typeof listAnswersWith>>;
  /** What let its bytes go; null while they are kept. */
  readonly deletion: ShownDeletion | null;
}

/** A photo with what was ever covered in it, for the staff. Refuses with `not_found`. */
export function readCoverings(
  services: Services,
  actor: Actor,
  photoId: PhotoId,
): Promise<Result<PhotoCoverings>> {
  return performAsStaff(services, actor, 'see_work_orders', async ({ tx }) => {
    const photo = await findPhoto(tx, photoId);
    const about = photo === null ? null : await findWorkOrder(tx, photo.workOrderId);
    if (photo === null || about === null) return refuse('not_found', 'There is no such photo.');
    const { id, workOrderId, purpose, width, height, sha256 } = photo;
    return ok({
      ...{ id, workOrderId, purpose, width, height, sha256 },
      number: about.workOrder.number,
      copyReady: (await findDerivative(tx, photoId, 'view')) !== null,
      coverings: await viewsOf(tx, photoId),
      answers: await listAnswersWith(tx, photoId),
      deletion: await findShownDeletion(tx, 'photos', photoId),
    });
  });
}

async function viewsOf(tx: TenantTransaction, photoId: PhotoId): Promise<readonly CoveringView[]> {
  const found = await listCoverings(tx, photoId);
  const copies = await listCoveredCopies(
    tx,
    found.map(({ covering }) => covering.id),
  );
  return found.map(({ covering: { id, number, regions, reason, madeAt }, madeByName }) => ({
    ...{ id, number, regions, reason, madeAt },
    madeBy: madeByName,
    ready: regions.length === 0 || copies.some((copy) => copy.coveringId === id),
  }));
}
