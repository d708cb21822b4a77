import type { ShownPhotoRow } from '@grainwright/db';
import { ok, type PhotoId, type TenantId } from '@grainwright/domain';
import type { PicturedPart, PicturedPhoto } from '../evidence/shown-acceptance.ts';
import { noticedOf } from '../photo-checks/noticed.ts';
import type { Services } from '../services.ts';
import type { PhotoView, WorkOrderView } from './work-order-view.ts';

type Noticed = ReadonlyMap<PhotoId, readonly string[]>;

/** Photos with the one that was taken instead of each, and what was noticed of those that were replaced. */
export function photoViews(rows: readonly ShownPhotoRow[], noticed: Noticed): readonly PhotoView[] {
  return rows.map((row) => {
    const instead = rows.find(({ retakeOf }) => retakeOf === row.id);
    const takenAgain = instead && { by: instead.id, noticed: noticed.get(row.id) ?? [] };
    return { ...row, takenAgain: takenAgain ?? null };
  });
}

/**
 * Why photos were taken again, for whoever’s own role does not read what was noticed of photos, though it sees them;
 * that they may see the work order was settled before.
 */
export async function whyTakenAgain(
  services: Pick<Services, 'database'>,
  tenantId: TenantId,
  view: WorkOrderView,
): Promise<WorkOrderView> {
  const noticed = await noticedAsStaff(services, tenantId, replacedIn(view.photos));
  return noticed.size === 0 ? view : { ...view, photos: photoViews(view.photos, noticed) };
}

/** As `whyTakenAgain`, of the pictures that are shown and signed. */
export async function whyPartsTakenAgain(
  services: Pick<Services, 'database'>,
  tenantId: TenantId,
  parts: readonly PicturedPart[],
): Promise<readonly PicturedPart[]> {
  const all = parts.flatMap(({ before, stopped, after }) => [...before, ...stopped, ...after]);
  const noticed = await noticedAsStaff(services, tenantId, replacedIn(all));
  if (noticed.size === 0) return parts;
  const told = (photos: readonly PicturedPhoto[]) =>
    photos.map((photo) => ({ ...photo, noticed: noticed.get(photo.id) ?? [] }));
  return parts.map((part) => ({ ...part, before: told(part.before), after: told(part.after) }));
}

function replacedIn(
  photos: readonly { readonly id: PhotoId; readonly retakeOf?: PhotoId | null | undefined }[],
): readonly PhotoId[] {
  return photos.map(({ id }) => id).filter((id) => photos.some(({ retakeOf }) => retakeOf === id));
}

async function noticedAsStaff(
  { database }: Pick<Services, 'database'>,
  tenantId: TenantId,
  ids: readonly PhotoId[],
): Promise<Noticed> {
  if (ids.length === 0) return new Map();
  const noticed = await database.withTenant({ role: 'staff', tenantId }, async (tx) =>
    ok(await noticedOf(tx, ids)),
  );
  return noticed.ok ? noticed.value : new Map();
}
