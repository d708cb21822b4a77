import type { PhotoView } from '@grainwright/operations';
import { deletionWords } from '@grainwright/operations/phone';
import type { Picture } from '../../look/before-after.ts';
import { dayText } from '../../look/figures.ts';

type StateOf = Pick<PhotoView, 'ready' | 'sha256'> & Partial<Pick<PhotoView, 'coveredOn' | 'deletion'>>;

/** Whether a picture can be looked at, and what stands there where it can’t. */
export function pictureState({
  ready,
  coveredOn = null,
  deletion = null,
  sha256,
}: StateOf): Pick<Picture, 'ready' | 'waiting' | 'gone'> {
  if (deletion !== null)
    return { gone: `The picture was ${deletionWords('photos', deletion)}. Its digest: ${sha256}` };
  return coveredOn === null ? { ready } : { ready, waiting: 'Parts of the picture are being covered' };
}

/** “parts covered Aug 5, 2026”; empty where nothing is. */
export function coveredWords({ coveredOn, deletion }: Pick<PhotoView, 'coveredOn' | 'deletion'>): string {
  return coveredOn === null || deletion !== null ? '' : `parts covered ${dayText(coveredOn)}`;
}
