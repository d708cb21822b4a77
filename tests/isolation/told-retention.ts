import type { CoveringId, LegalHoldId, PhotoId, WorkOrderId } from '@grainwright/domain';
import { coverPhoto, placeLegalHold } from '@grainwright/operations';
import { type Account, must } from '../support/world.ts';

/** A photo with a part covered, and a work order that must not be deleted. */
export async function tellRetention(
  { business }: Account,
  word: string,
  work: { readonly workOrder: WorkOrderId; readonly photo: PhotoId | '' },
) {
  const { world, owner } = business;
  if (work.photo === '') throw new Error('a work order without a photo');
  const covering = world.newId<CoveringId>();
  const regions = [{ kind: 'plate', left: 10, top: 10, width: 20, height: 10 }];
  must(
    await coverPhoto(world.services, owner, {
      ...{ id: covering, photoId: work.photo, regions },
      reason: `the plate of ${word}`,
    }),
  );
  const legalHold = world.newId<LegalHoldId>();
  const hold = { id: legalHold, workOrderId: work.workOrder, accountId: null };
  must(await placeLegalHold(world.services, owner, { ...hold, reason: `a claim of ${word}` }));
  const made = { covering, uncovering: legalHold, retentionRule: covering, legalHold, accountHold: covering };
  return { named: { legalHold }, made };
}
