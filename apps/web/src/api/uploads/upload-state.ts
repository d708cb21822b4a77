import type { UploadView } from '@grainwright/operations';

/** As the API tells how far an upload has come. */
export function uploadState({ uploadId, bytes, offset, partBytesMax, complete }: UploadView) {
  return { upload_id: uploadId, bytes, offset, part_bytes_max: partBytesMax, complete };
}
