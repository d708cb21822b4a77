import { fileURLToPath } from 'node:url';
import { Worker } from 'node:worker_threads';
import type { DrawnPicture } from '@grainwright/evidence';

/** Draws pictures in threads of their own, so that the demo's story goes on meanwhile. */
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

/** As many as draw faster than the story is told, on a machine with two cores. */
const threads = 2;

/** Threads start with the first picture: most starts find the demo made. Pictures of one place go to the same one. */
export function openPictureDrawer(): PictureDrawer {
  const waiting = new Map<number, PromiseWithResolvers<Buffer>>();
  const workers: Worker[] = [];
  let asked = 0;
  return {
    draw: (picture) => {
      while (workers.length < threads) workers.push(startThread(waiting));
      const asker = Promise.withResolvers<Buffer>();
      // Whoever asks ahead may look at it late; a failure is theirs to find then.
      asker.promise.catch(() => {});
      asked += 1;
      waiting.set(asked, asker);
      workers[picture.seed % threads]?.postMessage({ index: asked, picture });
      return asker.promise;
    },
    close: async () => {
      for (const worker of workers) await worker.terminate();
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
