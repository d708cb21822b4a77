import { sharp } from '../photo/image-engine.ts';
import { type Damage, drawDamage } from './damage.ts';
import { expose } from './light.ts';
import { randomFrom } from './noise.ts';
import { coverColor, drawPanel, type Part, type Trim } from './panel.ts';
import type { Place } from './place.ts';
import { drawBlended, drawFilled, patchOf } from './repair.ts';
import { layRuler } from './ruler.ts';
import { height, type Surface, width } from './surface.ts';

export interface DrawnPicture {
  readonly part: Part;
  readonly trim: Trim;
  readonly damage: Damage;
  /** Length of the damage in inches, which the ruler shows. */
  readonly inches: number;
  /** Whether the cover around a cut or tear has lifted into wrinkles, which heat lays down. */
  readonly lifted?: boolean;
  readonly stage: 'before' | 'after_heat' | 'progress' | 'after';
  /** The same seed, part and damage is the same place from the same viewpoint at every stage. */
  readonly seed: number;
  /** The middle of the damage, 0 to 1 from the left and from the top; each part has a likely place. */
  readonly at?: { readonly x: number; readonly y: number };
  /** Half as wide and half as high, for where many are drawn. */
  readonly coarse?: boolean;
  /** `YYYY-MM-DDTHH:MM:SS` on the camera's clock, and how far that is from UTC (`-05:00`). */
  readonly takenAtLocal: string;
  readonly takenAtOffset: string;
}

/**
 * Draws a photograph of damaged trim for the demo and for tests: a JPEG of 1600 by 1200, or 800 by 600, with the capture time in
 * its EXIF. Nothing in it is a real vehicle. The same input gives the same bytes.
 */
export async function drawPicture(picture: DrawnPicture): Promise<Buffer> {
  const place = placeOf(picture);
  const surface = drawPanel(picture.part, picture.trim);
  drawStage(surface, picture, place);
  const random = randomFrom(picture.seed ^ 0x77);
  const light = { fromX: 300 + 500 * random(), fromY: 60 + 200 * random(), exposure: 1.02 + 0.12 * random() };
  const seeds = { grain: picture.seed, noise: picture.seed ^ (picture.stage.length * 7919) };
  const every = picture.coarse === true ? 2 : 1;
  const pixels = expose(surface, light, seeds, every);
  return sharp(pixels, { raw: { width: width / every, height: height / every, channels: 3 } })
    .blur(0.7)
    .jpeg({ quality: 86 })
    .withExif(exifOf(picture))
    .toBuffer();
}

function drawStage(surface: Surface, { damage, stage, lifted, trim }: DrawnPicture, place: Place): void {
  const cover = coverColor(trim);
  switch (stage) {
    case 'before':
      if (lifted === true) drawDamage(surface, 'wrinkle', place, cover);
      drawDamage(surface, damage, place, cover);
      break;
    case 'after_heat':
      // Heat lays wrinkles down; what goes through the material stays, and is measured.
      if (damage === 'wrinkle') break;
      drawDamage(surface, damage, place, cover);
      layRuler(surface, place, patchOf(damage, place).across + 20);
      break;
    case 'progress':
      drawFilled(surface, damage, place);
      break;
    case 'after':
      drawBlended(surface, damage, place, cover);
      break;
  }
}

const likelyPlaces: Readonly<Record<Part, { x: number; y: number }>> = {
  door_panel: { x: 0.5, y: 0.47 },
  tailgate_lining: { x: 0.55, y: 0.5 },
  quarter_trim: { x: 0.4, y: 0.38 },
  seat_bolster: { x: 0.52, y: 0.5 },
  steering_wheel: { x: 0.5, y: 0.5 },
  dash: { x: 0.48, y: 0.46 },
};

function placeOf({ part, inches, seed, at }: DrawnPicture): Place {
  const { x, y } = at ?? likelyPlaces[part];
  // Close enough to see the grain, far enough for the damage and its ruler to fit.
  const pixelsPerInch = Math.min(210, 900 / inches);
  const random = randomFrom(seed);
  const angle = part === 'steering_wheel' ? -0.05 : (random() - 0.5) * 0.5;
  return {
    x: x * width,
    y: y * height,
    angle,
    reach: (inches * pixelsPerInch) / 2,
    seed: random() * 900,
    pixelsPerInch,
  };
}

/** Tags of Exif 2.32 (CIPA DC-008-2019): DateTimeOriginal, OffsetTimeOriginal; orientation 1, as seen. */
function exifOf({ takenAtLocal, takenAtOffset }: DrawnPicture) {
  const time = takenAtLocal.replaceAll('-', ':').replace('T', ' ');
  return {
    IFD0: { Make: 'Grainwright', Model: 'Drawn for the demo', Orientation: '1', DateTime: time },
    IFD2: { DateTimeOriginal: time, DateTimeDigitized: time, OffsetTimeOriginal: takenAtOffset },
  };
}
