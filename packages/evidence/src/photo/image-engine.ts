import sharp from 'sharp';
import { atMost } from './at-most.ts';

/**
 * The one door to the image library. Its loaders for every other kind of file (SVG, TIFF, GIF, …) are closed for
 * the whole process: what is not a photo is not decoded even if its first bytes lie.
 */
sharp.block({ operation: ['VipsForeignLoad'] });
sharp.unblock({
  operation: ['Jpeg', 'Png', 'Webp'].flatMap((kind) => [
    `VipsForeignLoad${kind}File`,
    `VipsForeignLoad${kind}Buffer`,
  ]),
});
// Each photo on one thread and no cache between photos: several are at work at once, and none comes twice.
sharp.concurrency(1);
sharp.cache(false);

/** Runs decoding work, two photos at a time in this process. */
export const decoding = atMost(2);

export { sharp };
