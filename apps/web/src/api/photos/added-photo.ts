import type { AddedPhoto } from '@grainwright/operations';

/** As the API tells of a photo that was kept just now. */
export function addedPhoto({ photoId, sha256, warnings }: AddedPhoto) {
  return {
    id: photoId,
    sha256,
    warnings: warnings.map(({ code, sentence }) => ({ code, sentence })),
  };
}
