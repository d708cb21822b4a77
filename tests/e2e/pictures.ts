import { drawPicture } from '@grainwright/evidence';

/** A photo as a phone would hand it over: the cut in the tailgate lining of this test, at one of its stages. */
export async function tailgatePhoto(
  stage: 'before' | 'after_heat' | 'progress' | 'after',
  seed: number,
): Promise<{ name: string; mimeType: string; buffer: Buffer }> {
  const buffer = await drawPicture({
    part: 'tailgate_lining',
    trim: 'charcoal',
    damage: 'cut',
    inches: 2.2,
    lifted: true,
    stage,
    seed,
    takenAtLocal: '2026-08-05T09:12:00',
    takenAtOffset: '-05:00',
  });
  return { name: `${stage}.jpg`, mimeType: 'image/jpeg', buffer };
}
