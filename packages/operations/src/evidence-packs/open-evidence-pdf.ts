import { ok, type Result, type WorkOrderId } from '@grainwright/domain';
import type { OpenedFile } from '../documents/opened-file.ts';
import type { Actor } from '../perform.ts';
import type { Services } from '../services.ts';
import { evidenceDocument } from './evidence-document.ts';
import { readPackRecords } from './pack-records.ts';

/**
 * The evidence of a work order as a document to file: for staff any of the business, for contacts those of their
 * account. Refuses as `readPackRecords` does.
 */
export async function openEvidencePdf(
  services: Services,
  actor: Actor,
  id: WorkOrderId,
): Promise<Result<OpenedFile>> {
  const records = await readPackRecords(services, actor, id);
  if (!records.ok) return records;
  return ok({
    fileName: `WO-${records.value.view.number}-evidence.pdf`,
    mediaType: 'application/pdf',
    body: await evidenceDocument(services, records.value),
  });
}
