import { luminanceOf, measuredSide, measurePicture, type PhotoMeasures } from '@grainwright/domain';

/** Measures what is drawn, at the size at which the server measures the original. Null where the browser can't read it. */
export function measureDrawn(source: CanvasImageSource, width: number, height: number): PhotoMeasures | null {
  const scale = Math.min(1, measuredSide / Math.max(width, height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(width * scale));
  canvas.height = Math.max(1, Math.round(height * scale));
  const context = canvas.getContext('2d', { willReadFrequently: true });
  if (context === null) return null;
  context.imageSmoothingQuality = 'high';
  context.drawImage(source, 0, 0, canvas.width, canvas.height);
  const { data } = context.getImageData(0, 0, canvas.width, canvas.height);
  return measurePicture(luminanceOf(canvas.width, canvas.height, data));
}

export interface Measured {
  readonly width: number;
  readonly height: number;
  readonly measures: PhotoMeasures;
}

/** Of a picture's file, upright; null where this browser can't show it. */
export async function measureFile(file: Blob): Promise<Measured | null> {
  const picture = await createImageBitmap(file).catch(() => null);
  if (picture === null) return null;
  const { width, height } = picture;
  const measures = measureDrawn(picture, width, height);
  picture.close();
  return measures && { width, height, measures };
}
