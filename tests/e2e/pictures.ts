import { type DrawnPicture, drawPicture } from '@grainwright/evidence';
import sharp from 'sharp';

/** A photo as a phone would hand it over. */
export interface Shot {
  readonly name: string;
  readonly mimeType: string;
  readonly buffer: Buffer;
}

/** The cut in the tailgate lining, at one of its stages. */
export async function tailgatePhoto(stage: DrawnPicture['stage'], seed: number): Promise<Shot> {
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
  return shot(stage, buffer);
}

let taken = 0;

/** A small photo, drawn from what is known of the damage; no two are the same. It says nothing of when it was taken. */
export async function smallPhoto(
  stage: DrawnPicture['stage'],
  of: Pick<DrawnPicture, 'part' | 'trim' | 'damage' | 'inches' | 'lifted'>,
): Promise<Shot> {
  taken += 1;
  const large = await drawPicture({
    ...of,
    stage,
    seed: taken,
    takenAtLocal: '2026-08-05T09:12:00',
    takenAtOffset: '-05:00',
  });
  // Turned into another picture without its EXIF, so that it can be of any day.
  return shot(stage, await sharp(large).resize(800).jpeg().toBuffer());
}

function shot(stage: string, buffer: Buffer): Shot {
  return { name: `${stage}.jpg`, mimeType: 'image/jpeg', buffer };
}
