import { createHash, randomUUID } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import { photoPixelsMax } from '@grainwright/domain';
import { decoding, sharp } from './image-engine.ts';

export interface Derivative {
  readonly path: string;
  /** SHA-256 of the file, lower-case hex. */
  readonly sha256: string;
  readonly bytes: number;
  readonly width: number;
  readonly height: number;
}

export interface Derivatives {
  /** For looking closely: the longer side at most 1600 pixels. */
  readonly view: Derivative;
  /** For lists: the longer side at most 480 pixels. */
  readonly thumb: Derivative;
}

/**
 * Makes the JPEGs that accounts and vehicle owners see from an inspected original: upright, in sRGB, without the
 * position or anything else the camera wrote down. The same original gives the same bytes. Throws on a file that
 * does not decode. The files are the caller's to remove; on an error none is left.
 */
export async function makeDerivatives(sourcePath: string, targetDirectory: string): Promise<Derivatives> {
  const name = join(targetDirectory, randomUUID());
  const paths = { view: `${name}.view.jpg`, thumb: `${name}.thumb.jpg` };
  try {
    return await decoding(async () => ({
      view: await shrink(sourcePath, paths.view, { longestSide: 1600, quality: 84 }),
      thumb: await shrink(sourcePath, paths.thumb, { longestSide: 480, quality: 78 }),
    }));
  } catch (error) {
    await Promise.all([rm(paths.view, { force: true }), rm(paths.thumb, { force: true })]);
    throw error;
  }
}

interface ShrinkTo {
  readonly longestSide: number;
  readonly quality: number;
}

async function shrink(source: string, path: string, { longestSide, quality }: ShrinkTo): Promise<Derivative> {
  const made = await sharp(source, { failOn: 'warning', limitInputPixels: photoPixelsMax })
    .rotate()
    .resize({ width: longestSide, height: longestSide, fit: 'inside', withoutEnlargement: true })
    .flatten({ background: '#ffffff' })
    .toColourspace('srgb')
    .jpeg({ quality })
    .toFile(path);
  return { path, sha256: await sha256Of(path), bytes: made.size, width: made.width, height: made.height };
}

export async function sha256Of(path: string): Promise<string> {
  const hash = createHash('sha256');
  await pipeline(createReadStream(path), hash);
  return hash.digest('hex');
}
