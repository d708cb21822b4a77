import { openServices } from '@grainwright/operations';
import { Logger, runOnce } from 'graphile-worker';
import { makePhotoDerivativesTask } from '../../apps/worker/src/tasks/make-photo-derivatives.ts';
import type { World } from './world.ts';

/** Does every job that is due, with the worker's own tasks, and comes back when there is none left. */
export async function runJobs(world: World): Promise<void> {
  const opened = await openServices({
    loginUrl: world.loginUrl,
    objectsFolder: world.objectsFolder,
    connections: 2,
  });
  try {
    await runOnce({
      connectionString: world.adminUrl,
      schema: 'graphile_worker',
      taskList: { make_photo_derivatives: makePhotoDerivativesTask(opened) },
      parsedCronItems: [],
      logger: new Logger(() => () => undefined),
    });
  } finally {
    await opened.close();
  }
}
