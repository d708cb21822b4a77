import type { Stroke } from '@grainwright/domain';
import { z } from 'zod';

const drawn = z
  .array(z.array(z.object({ x: z.number(), y: z.number(), t: z.number() })).max(10_000))
  .max(500);

/** The strokes as the page's module writes them into its field; null where it is no such text. */
export function readStrokes(text: string): readonly Stroke[] | null {
  try {
    const read = drawn.safeParse(JSON.parse(text));
    return read.success ? read.data : null;
  } catch {
    return null;
  }
}
