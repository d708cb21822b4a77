import { fileURLToPath } from 'node:url';
import { Worker } from 'node:worker_threads';
import type { DrawnPicture } from '@grainwright/evidence';

/** Draws pictures in a thread of its own, so that the demo's story goes on meanwhile. */
export interface PictureDrawer {
  /** Begins at once, after what was asked for before. */
  draw(picture: DrawnPicture): Promise<Buffer>;
  close(): Promise<void>;
}

interface Answer {
  readonly index: number;
  readonly jpeg?: Uint8Array;
  readonly problem?: string;
}

/** The thread starts with the first picture: most starts find the demo made. */
export function openPictureDrawer(): PictureDrawer {
  const waiting = new Map<number, PromiseWithResolvers<Buffer>>();
  let worker: Worker | null = null;
  let asked = 0;
  return {
    draw: (picture) => {
      worker ??= startThread(waiting);
      const asker = Promise.withResolvers<Buffer>();
      // Whoever asks ahead may look at it late; a failure is theirs to find then.
      asker.promise.catch(() => {});
      asked += 1;
      waiting.set(asked, asker);
      worker.postMessage({ index: asked, picture });
      return asker.promise;
    },
    close: async () => {
      await worker?.terminate();
    },
  };
}

function startThread(waiting: Map<number, PromiseWithResolvers<Buffer>>): Worker {
  const worker = new Worker(fileURLToPath(new URL('picture-thread.ts', import.meta.url)));
  worker.on('message', ({ index, jpeg, problem }: Answer) => {
    const asker = waiting.get(index);
    waiting.delete(index);
    if (jpeg === undefined) asker?.reject(new Error(problem ?? 'no picture came'));
    else asker?.resolve(Buffer.from(jpeg));
  });
  worker.on('error', (error) => {
    for (const asker of waiting.values()) asker.reject(error);
    waiting.clear();
  });
  return worker;
}
