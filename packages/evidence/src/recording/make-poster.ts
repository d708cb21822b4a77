import { randomUUID } from 'node:crypto';
import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { photoPixelsMax } from '@grainwright/domain';
import { type Derivative, sha256Of } from '../photo/derivatives.ts';
import { decoding, sharp } from '../photo/image-engine.ts';

/**
 * Makes the picture that stands for a recording from one that the phone took of it: a JPEG without anything but what it
 * shows, its longer side at most 960 pixels. Throws on a file that does not decode; the file is the caller's to remove.
 */
export async function makePoster(source: string, targetDirectory: string): Promise<Derivative> {
  const path = join(targetDirectory, `${randomUUID()}.poster.jpg`);
  try {
    const made = await decoding(() =>
      sharp(source, { failOn: 'warning', limitInputPixels: photoPixelsMax })
        .rotate()
        .resize({ width: 960, height: 960, fit: 'inside', withoutEnlargement: true })
        .flatten({ background: '#ffffff' })
        .toColourspace('srgb')
        .jpeg({ quality: 80 })
        .toFile(path),
    );
    const { width, height } = made;
    return { path, sha256: await sha256Of(path), bytes: made.size, width, height };
  } catch (error) {
    await rm(path, { force: true });
    throw error;
  }
}
