import { evidencePackPdf } from '@grainwright/documents';
import type { PhotoId } from '@grainwright/domain';
import { toObjectKey } from '@grainwright/evidence';
import type { Services } from '../services.ts';
import { readBytes } from '../stored-bytes.ts';
import { evidenceModel } from './evidence-model.ts';
import { photosShown } from './evidence-pictures.ts';
import type { PackRecords } from './pack-records.ts';

/** The document of a pack. The same records make the same bytes for each reader. */
export async function evidenceDocument(
  services: Pick<Services, 'objects' | 'links'>,
  records: PackRecords,
): Promise<Uint8Array> {
  const { photos, covered, remarks, deleted, hidden, business } = records;
  const logo =
    business.logoKey === null ? null : await readBytes(services.objects, toObjectKey(business.logoKey));
  const shown = await picturesShown(services, records);
  const { timeZone } = business;
  return evidencePackPdf(
    evidenceModel(records, {
      logo,
      pictures: { photos, covered, remarks, deleted, hidden, timeZone, shown },
      publicUrl: services.links.publicUrl,
    }),
  );
}

/** Only those that the document has room for, and only copies that everybody may see. */
async function picturesShown(
  { objects }: Pick<Services, 'objects'>,
  { view, photos, hidden, sources }: PackRecords,
): Promise<ReadonlyMap<PhotoId, Uint8Array>> {
  const groups = [null, ...view.lines.map(({ id }) => id)];
  const wanted = groups.flatMap((lineId) =>
    photosShown(lineId, { photos, hidden }).shown.map(({ id }) => id),
  );
  const shown = new Map<PhotoId, Uint8Array>();
  for (const { photoId, storageKey } of sources) {
    if (!wanted.includes(photoId)) continue;
    const bytes = await readBytes(objects, toObjectKey(storageKey));
    if (bytes !== null) shown.set(photoId, bytes);
  }
  return shown;
}
