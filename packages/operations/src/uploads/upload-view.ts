import { countUploadParts, findUpload, type UploadRow } from '@grainwright/db';
import { ok, type Result, refuse, type UploadId } from '@grainwright/domain';
import type { Scope } from '../perform.ts';

/** How far an upload has come. */
export interface UploadView {
  readonly uploadId: UploadId;
  /** Announced, in all. */
  readonly bytes: number;
  /** Where the next part begins: so many bytes are held. */
  readonly offset: number;
  readonly partBytesMax: number;
  /** Whether all of it is held, or has been made use of already. */
  readonly complete: boolean;
}

/** Small enough to get through on a poor line before it breaks, large enough that a video is not thousands of them. */
export const partBytesMax = 4_194_304;
/** Of one upload, so that nobody fills the table with crumbs. */
export const partsMax = 2000;

/** What an upload was announced as; each has a limit of its own. */
export type UploadKind = 'photo' | 'recording';

export function uploadKind(mediaType: string): UploadKind {
  return /^(video|audio)\//.test(mediaType) ? 'recording' : 'photo';
}

export const noSuchUpload = refuse(
  'not_found',
  'There is no such upload, or nobody went on with it for a week. Begin it again.',
);

/** An upload of whoever acts; another person's does not exist for them. */
export async function openUpload(
  scope: Scope,
  uploadId: UploadId,
  find: typeof findUpload = findUpload,
): Promise<Result<UploadRow>> {
  const upload = await find(scope.tx, uploadId);
  return upload !== null && upload.personId === scope.actor.personId ? ok(upload) : noSuchUpload;
}

export async function viewUpload(scope: Scope, upload: UploadRow): Promise<UploadView> {
  const held = await countUploadParts(scope.tx, upload.id);
  return viewAt(upload, upload.usedAt === null ? held.bytes : upload.bytes);
}

export function viewAt(upload: Pick<UploadRow, 'id' | 'bytes'>, offset: bigint): UploadView {
  return {
    uploadId: upload.id,
    bytes: Number(upload.bytes),
    offset: Number(offset),
    partBytesMax,
    complete: offset === upload.bytes,
  };
}
