import { listPhotoRemarks, type TenantTransaction } from '@grainwright/db';
import type { PhotoId, PhotoWarning, PhotoWarningCode } from '@grainwright/domain';

/** What was noticed of a photo, for whoever was not there: what to do about it was said to the technician. */
const noticed = {
  blurred: 'blurred',
  too_dark: 'dark',
  washed_out: 'washed out',
  too_small: 'small',
  same_picture: 'the same file as another picture',
  like_another: 'much like another picture',
  before_work_order: 'dated before the work order',
  in_future: 'dated later than it came in',
} as const satisfies Record<PhotoWarningCode, string>;

export function noticedWords(warnings: readonly PhotoWarning[]): readonly string[] {
  return warnings.map(({ code }) => noticed[code]);
}

/** Of each photo that something was noticed of; the transaction has the staff’s role. */
export async function noticedOf(
  tx: TenantTransaction,
  ids: readonly PhotoId[],
): Promise<ReadonlyMap<PhotoId, readonly string[]>> {
  if (ids.length === 0) return new Map();
  const remarks = await listPhotoRemarks(tx, ids);
  return new Map(remarks.map(({ photoId, warnings }) => [photoId, noticedWords(warnings)]));
}
