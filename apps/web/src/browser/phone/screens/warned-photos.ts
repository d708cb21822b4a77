import {
  type Instant,
  type LineId,
  type OtherPhoto,
  type PhotoPurpose,
  type PhotoWarning,
  photoPurposes,
  warningsAtCapture,
} from '@grainwright/domain';
import type { OpenPhotoWarning, PhotosToTake } from '@grainwright/operations';
import type { PhoneWork } from '../projection.ts';
import type { Here } from './screen.ts';

export type WarnedPhoto = PhotosToTake['warned'][number];

/** What is said against photos of a work order, by the server or by this phone, and what became of it here or there. */
export async function warnedPhotos(here: Here, work: PhoneWork): Promise<readonly WarnedPhoto[]> {
  return warnedAmong(work, await toldHere(here, work), here.frame.me.name);
}

/** `told`: what this phone has to say, by the photos’ ids. Of a photo that the server has, the server’s word counts. */
export function warnedAmong(
  work: Pick<PhoneWork, 'photos' | 'warned' | 'retakes' | 'keptBecause'>,
  told: ReadonlyMap<string, readonly PhotoWarning[]>,
  technician: string,
): readonly WarnedPhoto[] {
  return work.photos.flatMap(({ id, lineId, purpose }) => {
    const known = work.warned.find((each) => each.id === id);
    const warnings = known?.warnings ?? told.get(id) ?? [];
    if (warnings.length === 0) return [];
    const said = work.keptBecause.get(id);
    const here = said && { reason: said.reason, madeBy: technician, madeAt: said.madeAt as Instant };
    return [
      {
        ...{ id, lineId, purpose, warnings },
        retakenBy: known?.retakenBy ?? work.retakes.get(id) ?? null,
        override: known?.override ?? here ?? null,
      },
    ];
  });
}

/** Of photos that only this phone has, each against those that were there before it. */
async function toldHere(
  { day, actions, measureKept }: Here,
  work: PhoneWork,
): Promise<ReadonlyMap<string, readonly PhotoWarning[]>> {
  const onServer = day.snapshot.workOrders.find(({ id }) => id === work.id)?.photos ?? [];
  const others: OtherPhoto[] = onServer.map(({ sha256, purpose }) => compared(sha256, purpose, null));
  const told = new Map<string, readonly PhotoWarning[]>();
  for (const photo of work.photos) {
    const kept = actions.find(({ action }) => action.id === photo.id);
    if (kept === undefined || onServer.some(({ id }) => id === photo.id)) continue;
    const measured = await measureKept(photo.id);
    if (measured === null) continue;
    const { sha256, purpose } = photo;
    told.set(photo.id, warningsAtCapture({ ...measured, sha256 }, others));
    others.push(compared(sha256, purpose, measured.measures));
  }
  return told;
}

function compared(sha256: string, purpose: PhotoPurpose, measures: OtherPhoto['measures']): OtherPhoto {
  return { sha256, purpose, measures, elsewhere: null };
}

/** Those that still want an answer before work is finished, of the lines that were worked and of the vehicle as a whole. */
export function stillOpen(
  warned: readonly WarnedPhoto[],
  lines: readonly { readonly lineId: LineId; readonly label: string }[],
): readonly OpenPhotoWarning[] {
  return warned.flatMap(({ id, lineId, purpose, warnings, retakenBy, override }) => {
    const line = lines.find((each) => each.lineId === lineId);
    if (retakenBy !== null || override !== null || (lineId !== null && line === undefined)) return [];
    const shows = `${photoPurposes[purpose]}: ${line?.label ?? 'the whole vehicle'}`;
    return [{ photoId: id, shows, sentences: warnings.map(({ sentence }) => sentence) }];
  });
}
