import { isMigrated } from '@grainwright/db';
import { ok } from '@grainwright/domain';
import type { Services } from './services.ts';

export interface Readiness {
  readonly database: boolean;
  /** Whether the database has every migration that this version was written for. */
  readonly migrations: boolean;
  readonly storage: boolean;
}

/** Whether what the service needs answers: the database, its schema, and the store of photos. */
export async function readiness(services: Services): Promise<Readiness> {
  const migrated = services.database
    .withRegistry(async (tx) => ok(await isMigrated(tx)))
    .then(
      (answer) => ({ database: answer.ok, migrations: answer.ok && answer.value }),
      () => ({ database: false, migrations: false }),
    );
  const storage = services.objects.check().then(
    (answer) => answer.ok,
    () => false,
  );
  return { ...(await migrated), storage: await storage };
}
