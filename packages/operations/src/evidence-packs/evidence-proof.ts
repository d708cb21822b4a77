import type { EvidenceProof } from '@grainwright/documents';
import { photoPurposes, sealKinds } from '@grainwright/domain';
import { momentWords } from '../work-orders/moment-words.ts';
import type { WorkOrderLineView } from '../work-orders/work-order-view.ts';
import type { PackRecords } from './pack-records.ts';
import { signingKeyOf } from './pack-signer.ts';
import { picturesSealed } from './pictures-sealed.ts';

/** The digests that a pack is checked by, and how. */
export function evidenceProof(
  records: PackRecords,
  lines: readonly WorkOrderLineView[],
  publicUrl: string,
): EvidenceProof {
  const { photos, seals, days, business } = records;
  const { timeZone } = business;
  const newest = days.at(-1);
  return {
    pictures: photos.map((photo, index) => ({
      number: index + 1,
      words: [photoPurposes[photo.purpose], lines.find(({ id }) => id === photo.lineId)?.words ?? '']
        .filter((part) => part !== '')
        .join(', '),
      sha256: photo.sha256,
    })),
    picturesSealed: picturesSealed(records),
    seals: seals.map(({ number, kind, sealedAt, sha256 }) => ({
      number,
      words: `${sealKinds[kind]}, sealed ${momentWords(sealedAt, timeZone)}`,
      sha256,
    })),
    day: newest === undefined ? null : { day: newest.day, root: newest.root, sha256: newest.sha256 },
    keyId: signingKeyOf(records).keyId,
    howToCheck: [
      'Its archive holds the pictures, the seals with all that they were put on, and the keys.',
      `${publicUrl}/verify checks it on your own device and sends nothing anywhere.`,
      'Statements print the digest of the newest sealed day: where it is one of the archive’s, nothing up to then was changed.',
    ],
  };
}
