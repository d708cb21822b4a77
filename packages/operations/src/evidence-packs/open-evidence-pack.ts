import { Readable } from 'node:stream';
import { zipOf } from '@grainwright/documents';
import { ok, type Result, refuse, type WorkOrderId } from '@grainwright/domain';
import type { Actor } from '../perform.ts';
import type { Services } from '../services.ts';
import { evidenceDocument } from './evidence-document.ts';
import { type MediaToPack, photosToPack, recordingsToPackOf } from './media-of-pack.ts';
import { packContents } from './pack-contents.ts';
import { type PackRecords, readPackRecords } from './pack-records.ts';
import { packSigner } from './pack-signer.ts';

/** An archive that is made while it is read: nothing of it is held but one picture at a time. */
export interface OpenedArchive {
  readonly fileName: string;
  readonly mediaType: string;
  readonly stream: Readable;
}

/**
 * The evidence pack of a work order, signed, as an archive that anybody can check: with the originals for staff, and for
 * contacts of its account with copies that name no place. Refuses as `readPackRecords` does, and with `unavailable`
 * where a file can’t be reached.
 */
export async function openEvidencePack(
  services: Services,
  actor: Actor,
  id: WorkOrderId,
): Promise<Result<OpenedArchive>> {
  const records = await readPackRecords(services, actor, id);
  if (!records.ok) return records;
  const signer = packSigner(services, records.value);
  if (!signer.ok) return signer;
  const media = mediaOf(records.value);
  const reached = await allReached(services, media);
  if (!reached.ok) return reached;
  const contents = packContents(services, {
    records: records.value,
    signer: signer.value,
    media,
    document: await evidenceDocument(services, records.value),
  });
  return ok({
    fileName: `WO-${records.value.view.number}-evidence.zip`,
    mediaType: 'application/zip',
    stream: Readable.from(zipOf(contents), { objectMode: false, highWaterMark: 1 << 18 }),
  });
}

function mediaOf(records: PackRecords): readonly MediaToPack[] {
  return [...photosToPack(records), ...recordingsToPackOf(records)];
}

/** Asked before anything is sent, since then it is too late to say so. */
async function allReached(
  { objects }: Pick<Services, 'objects'>,
  media: readonly MediaToPack[],
): Promise<Result<true>> {
  for (const { source } of media)
    if (source !== null && !(await objects.has(source.key)))
      return refuse(
        'unavailable',
        'A picture of this work order can’t be reached right now. Try again later.',
      );
  return ok(true);
}
