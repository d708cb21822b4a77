import { ok, type Result, type UploadId } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { openUpload, type UploadView, viewUpload } from './upload-view.ts';

/** How far one's own upload has come, to go on with it. Refuses with `not_found`. */
export function readUpload(
  services: Services,
  actor: Actor,
  uploadId: UploadId,
): Promise<Result<UploadView>> {
  return performAsStaff(services, actor, 'write_up', async (scope) => {
    const upload = await openUpload(scope, uploadId);
    return upload.ok ? ok(await viewUpload(scope, upload.value)) : upload;
  });
}
