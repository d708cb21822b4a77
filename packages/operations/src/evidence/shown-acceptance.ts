import type { OwnersLine, OwnersVehicle, ShownPhotoRow, ShownStopPoint } from '@grainwright/db';
import {
  type AcceptanceShown,
  acceptanceShown,
  canonicalJson,
  digestHex,
  doneWords,
  type LineId,
  lineWords,
  type NamedLine,
  numberedNames,
  type OwnNumber,
  ok,
  type Result,
  type ShownPrices,
  standardAcceptanceWording,
  standardConsentWording,
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
export type PicturedPhoto = Pick<ShownPhotoRow, 'id' | 'purpose' | 'sha256' | 'ready'> &
  PhotoCondition & {
    /** What was noticed of one that was taken again, where that is told. */
    readonly noticed?: readonly string[];
  };

/** What became of a photo since; left out where a phone has it without signal. */
type PhotoCondition = Partial<Pick<ShownPhotoRow, 'coveredOn' | 'deletion' | 'retakeOf'>>;

/** What there is to show of a work order: lines and photos in their order, stop points as far as they are shown. */
export interface ShownFacts {
  readonly vehicle: OwnersVehicle;
  readonly lines: readonly OwnersLine[];
  readonly photos: readonly PicturedRow[];
  readonly stopPoints: readonly Pick<ShownStopPoint, 'lineId' | 'photoId' | 'note'>[];
}

export type PicturedRow = Pick<ShownPhotoRow, 'id' | 'lineId' | 'purpose' | 'sha256' | 'ready'> &
  PhotoCondition;

/** Builds exactly what is shown and signed; the same on the server and on a phone without signal. */
export function buildAcceptance(
  { vehicle, lines, photos, stopPoints }: ShownFacts,
  business: FromTheBusiness,
): Result<AcceptanceToShow> {
  const named = namedLines(lines);
  const parts = pictured(named, photos, stopPoints);
  const shown = acceptanceShown({
    ...business,
    vehicle: { ...identification(vehicle), ownNumbers: business.ownNumbers },
    work: named.map((line) => ({ lineId: line.id, text: wordsOf(line, stopPoints) })),
    photos: parts
      .flatMap(({ before, stopped, after }) => [...before, ...stopped, ...after])
      .map(({ id, purpose, sha256 }) => ({ photoId: id, purpose, sha256 })),
    wording: standardAcceptanceWording,
    consent: standardConsentWording,
  });
  if (!shown.ok) return shown;
  const canonical = canonicalJson(shown.value);
  return ok({ shown: shown.value, canonical, digest: digestHex(canonical), parts });
}

/** The pictures that stood in what was signed, by the parts that they show; what was taken later is none of them. */
export function signedParts(
  { lines, photos, stopPoints }: Omit<ShownFacts, 'vehicle'>,
  shown: Pick<AcceptanceShown, 'photos'>,
): readonly PicturedPart[] {
  const signed = new Set(shown.photos.map(({ photo }) => photo));
  return pictured(
    namedLines(lines),
    photos.filter(({ id }) => signed.has(id)),
    stopPoints,
  );
}

function namedLines(lines: readonly OwnersLine[]): readonly NamedOwnersLine[] {
  const names = numberedNames(lines.map((line) => lineWords(namedLine(line))));
  return lines.map((line, index) => ({ ...line, name: names[index] ?? '' }));
}

function identification(vehicle: OwnersVehicle) {
  return { description: vehicleWords(vehicle), vin: vehicle.vin, lastEight: vehicle.lastEight };
}

type NamedOwnersLine = OwnersLine & { readonly name: string };

function wordsOf(line: NamedOwnersLine, stopPoints: ShownFacts['stopPoints']): string {
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
  photos: readonly PicturedRow[],
  stopPoints: ShownFacts['stopPoints'],
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
