import { createHash } from 'node:crypto';
import {
  findOwnersVehicle,
  listOwnersLines,
  listShownPhotos,
  listStopPoints,
  type OwnersLine,
  type OwnersVehicle,
  type ShownPhotoRow,
  type ShownStopPoint,
  type TenantTransaction,
} from '@grainwright/db';
import {
  type AcceptanceShown,
  acceptanceShown,
  canonicalJson,
  doneWords,
  type LineId,
  lineWords,
  type NamedLine,
  numberedNames,
  type OwnNumber,
  type Result,
  refuse,
  type ShownPrices,
  standardAcceptanceWording,
  type VersionId,
  type WorkOrderId,
} from '@grainwright/domain';
import { sentence } from '../sentence.ts';
import { vehicleWords } from '../work-orders/vehicle-words.ts';

/** What the vehicle owner's role can't read and the business adds: the version, the account's number, prices if it chose so. */
export interface FromTheBusiness {
  readonly workOrderId: WorkOrderId;
  readonly versionId: VersionId;
  readonly ownNumbers: readonly OwnNumber[];
  readonly prices: ShownPrices | null;
}

export interface AcceptanceToShow {
  readonly shown: AcceptanceShown;
  /** The canonical JSON of `shown` (RFC 8785) and the SHA-256 of its UTF-8, lower-case hex. */
  readonly canonical: string;
  readonly digest: string;
  /** The pictures in the order of the work. */
  readonly parts: readonly PicturedPart[];
}

/** What belongs side by side, in the order it was taken. */
export interface PicturedPart {
  /** What it shows, e.g. “Cut or tear, tailgate lining”. */
  readonly label: string;
  readonly before: readonly PicturedPhoto[];
  /** Where the technician stopped on purpose, as far as it is shown. */
  readonly stopped: readonly PicturedPhoto[];
  readonly after: readonly PicturedPhoto[];
}

/** `ready`: whether its upright copies are there yet. */
export type PicturedPhoto = Pick<ShownPhotoRow, 'id' | 'purpose' | 'sha256' | 'ready'>;

/** Reads exactly what is shown and signed, in whatever role the transaction has: the owner's is enough. */
export async function readAcceptanceToShow(
  tx: TenantTransaction,
  business: FromTheBusiness,
): Promise<Result<AcceptanceToShow>> {
  const vehicle = await findOwnersVehicle(tx, business.workOrderId);
  if (vehicle === null) return refuse('not_found', 'There is no such work order.');
  const lines = await listOwnersLines(tx, business.workOrderId);
  const photos = await listShownPhotos(tx, business.workOrderId);
  const stopPoints = (await listStopPoints(tx, business.workOrderId)).filter(({ shown }) => shown);
  const names = numberedNames(lines.map((line) => lineWords(namedLine(line))));
  const named = lines.map((line, index) => ({ ...line, name: names[index] ?? '' }));
  const parts = pictured(named, photos, stopPoints);
  const shown = acceptanceShown({
    ...business,
    vehicle: { ...identification(vehicle), ownNumbers: business.ownNumbers },
    work: named.map((line) => ({ lineId: line.id, text: wordsOf(line, stopPoints) })),
    photos: parts
      .flatMap(({ before, stopped, after }) => [...before, ...stopped, ...after])
      .map(({ id, purpose, sha256 }) => ({ photoId: id, purpose, sha256 })),
    wording: standardAcceptanceWording,
  });
  if (!shown.ok) return shown;
  const canonical = canonicalJson(shown.value);
  const digest = createHash('sha256').update(canonical, 'utf8').digest('hex');
  return { ok: true, value: { shown: shown.value, canonical, digest, parts } };
}

function identification(vehicle: OwnersVehicle) {
  return { description: vehicleWords(vehicle), vin: vehicle.vin, lastEight: vehicle.lastEight };
}

type NamedOwnersLine = OwnersLine & { readonly name: string };

function wordsOf(line: NamedOwnersLine, stopPoints: readonly ShownStopPoint[]): string {
  const done = doneWords(line);
  const notes = stopPoints.filter(({ lineId }) => lineId === line.id).map(({ note }) => sentence(note));
  return notes.length === 0 ? done : `${done} Stopped on purpose: ${notes.join(' ')}`;
}

function namedLine({ part, side, damage, family, repairsDamage }: OwnersLine): NamedLine {
  return { damage: { part, position: side === '' ? null : side, kind: damage }, family, repairsDamage };
}

/** The before and after photos of each approved line, then those of the vehicle as a whole. */
function pictured(
  lines: readonly NamedOwnersLine[],
  photos: readonly ShownPhotoRow[],
  stopPoints: readonly ShownStopPoint[],
): readonly PicturedPart[] {
  const stoppedAt = new Set(stopPoints.map(({ photoId }) => photoId));
  const of = (lineId: LineId | null, label: string): PicturedPart => {
    const own = photos.filter((photo) => photo.lineId === lineId);
    return {
      label,
      before: own.filter((photo) => photo.purpose === 'before'),
      stopped: own.filter((photo) => photo.purpose === 'stop_point' && stoppedAt.has(photo.id)),
      after: own.filter((photo) => photo.purpose === 'after'),
    };
  };
  const parts = [...lines.map((line) => of(line.id, line.name)), of(null, 'The vehicle')];
  return parts.filter(({ before, after }) => before.length + after.length > 0);
}
