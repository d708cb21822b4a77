import {
  checkPhotoBytes,
  checkPhotoKind,
  checkPhotoPixels,
  firstBytesWanted,
  ok,
  photoUnreadable,
  type Result,
} from '@grainwright/domain';
import type { Measured } from './measure.ts';

export interface PhotoFileChecks {
  readonly bytesMax: number;
  readonly measure: (file: Blob) => Promise<Measured | null>;
}

/**
 * Whether the service will take a file as a photo: by its first bytes, its size, and whether it can be read, as the service
 * looks at it. What it refuses is never kept as evidence. Answers with its measures.
 */
export async function checkPhotoFile(
  file: Blob,
  { bytesMax, measure }: PhotoFileChecks,
): Promise<Result<Measured>> {
  const head = new Uint8Array(await file.slice(0, firstBytesWanted).arrayBuffer());
  const kind = checkPhotoKind(head);
  if (!kind.ok) return kind;
  const size = checkPhotoBytes(file.size, bytesMax);
  if (!size.ok) return size;
  const measured = await measure(file);
  if (measured === null) return photoUnreadable;
  const pixels = checkPhotoPixels(measured.width, measured.height);
  return pixels.ok ? ok(measured) : pixels;
}
