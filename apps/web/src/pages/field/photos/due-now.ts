import type { PhotoPurpose } from '@grainwright/domain';
import type { PhotosToTake } from '@grainwright/operations';

export type Needed = PhotosToTake['needed'];

/** Before work starts only what shows the damage is due; the rest is needed at the end. */
export function dueNow(photos: PhotosToTake): Needed {
  const { needed } = photos;
  return isWorked(photos)
    ? needed
    : needed.filter(({ purposes }) => purposes.some((each) => early.includes(each)));
}

export function isWorked({ workOrder }: PhotosToTake): boolean {
  return workOrder.state === 'in_work' || workOrder.state === 'done';
}

const early: readonly PhotoPurpose[] = ['walk_around', 'before'];
