import {
  luminanceOf,
  measuredSide,
  measurePicture,
  type PhotoMeasures,
  photoPixelsMax,
} from '@grainwright/domain';
import { decoding, sharp } from './image-engine.ts';

/** Measures an inspected original, upright, at the size at which phones measure what they took. Throws where it does not decode. */
export async function measurePhoto(source: string | Buffer): Promise<PhotoMeasures> {
  const { data, info } = await decoding(() =>
    sharp(source, { failOn: 'error', limitInputPixels: photoPixelsMax })
      .rotate()
      .resize({
        width: measuredSide,
        height: measuredSide,
        fit: 'inside',
        withoutEnlargement: true,
        kernel: 'linear',
      })
      .flatten({ background: '#ffffff' })
      .toColourspace('srgb')
      .removeAlpha()
      .raw()
      .toBuffer({ resolveWithObject: true }),
  );
  return measurePicture(luminanceOf(info.width, info.height, data));
}
