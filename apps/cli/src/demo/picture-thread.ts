import { parentPort } from 'node:worker_threads';
import { type DrawnPicture, drawPicture } from '@grainwright/evidence';

interface Wish {
  readonly index: number;
  readonly picture: DrawnPicture;
}

let last = Promise.resolve();

parentPort?.on('message', (wish: Wish) => {
  last = last.then(() => drawn(wish));
});

async function drawn({ index, picture }: Wish): Promise<void> {
  try {
    parentPort?.postMessage({ index, jpeg: await drawPicture(picture) });
  } catch (error) {
    parentPort?.postMessage({ index, problem: error instanceof Error ? error.message : String(error) });
  }
}
