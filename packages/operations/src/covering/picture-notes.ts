import type { AlteredPhoto } from '@grainwright/db';
import { dayWords, type LineId } from '@grainwright/domain';
import { deletionWords } from '../retention/deletion-words.ts';

/** “Before, seat bolster, tear: parts covered on Aug 6, 2026.”, a sentence for each picture that is covered or gone. */
export function pictureNotes(
  photos: readonly AlteredPhoto[],
  wordsOf: (lineId: LineId | null) => string,
): readonly string[] {
  return photos.map(({ lineId, purpose, sha256, coveredOn, deletion }) => {
    const picture = `${purpose === 'before' ? 'Before' : 'After'}, ${wordsOf(lineId)}`;
    if (deletion !== null)
      return `${picture}: the picture was ${deletionWords('photos', deletion)}; its digest is ${sha256}.`;
    return coveredOn === null ? picture : `${picture}: parts covered on ${dayWords(coveredOn)}.`;
  });
}
