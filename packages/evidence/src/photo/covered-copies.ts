import { randomUUID } from 'node:crypto';
import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { type CoveredRegion, photoPixelsMax, pixelRectangle } from '@grainwright/domain';
import { type Derivative, makeDerivatives, sha256Of } from './derivatives.ts';
import { decoding, sharp } from './image-engine.ts';

export interface CoveredCopies {
  /** In the original's own size. */
  readonly full: Derivative;
  readonly view: Derivative;
  readonly thumb: Derivative;
}

/** Twice the side of a JPEG's block, so that no block holds pixels of both kinds. */
const grid = 16;
/** A gray, which a JPEG keeps exactly. */
const fill = '#1b1b1b';

/**
 * Makes the JPEGs that are shown where parts of a photo are covered: upright, without anything that the camera wrote,
 * the parts filled with one opaque color before anything is made smaller, so that nothing of them is left in any copy.
 * The same original and parts give the same bytes. Throws on a file that does not decode. The files are the caller's
 * to remove; on an error none is left.
 */
export async function makeCoveredCopies(
  sourcePath: string,
  targetDirectory: string,
  regions: readonly Omit<CoveredRegion, 'kind'>[],
): Promise<CoveredCopies> {
  const path = join(targetDirectory, `${randomUUID()}.covered.jpg`);
  try {
    const full = await decoding(() => cover(sourcePath, path, regions));
    return { full, ...(await makeDerivatives(path, targetDirectory)) };
  } catch (error) {
    await rm(path, { force: true });
    throw error;
  }
}

async function cover(
  source: string,
  path: string,
  regions: readonly Omit<CoveredRegion, 'kind'>[],
): Promise<Derivative> {
  const options = { failOn: 'warning', limitInputPixels: photoPixelsMax } as const;
  const { autoOrient } = await sharp(source, options).metadata();
  const parts = regions.map((region) => {
    const { left, top, width, height } = pixelRectangle(region, autoOrient, grid);
    return { input: { create: { width, height, channels: 3, background: fill } }, left, top } as const;
  });
  const made = await sharp(source, options)
    .rotate()
    .flatten({ background: '#ffffff' })
    .toColourspace('srgb')
    .composite(parts)
    .jpeg({ quality: 92, chromaSubsampling: '4:4:4' })
    .toFile(path);
  return { path, sha256: await sha256Of(path), bytes: made.size, width: made.width, height: made.height };
}
