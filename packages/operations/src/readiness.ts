import { registryAnswers } from '@grainwright/db';
import { ok } from '@grainwright/domain';
import type { Services } from './services.ts';

/** Whether what the service needs answers: the database with its schema, and the store of photos. */
export async function readiness(services: Services): Promise<{ database: boolean; storage: boolean }> {
  const database = services.database
    .withRegistry(async (tx) => ok(await registryAnswers(tx)))
    .then(
      (answer) => answer.ok,
      () => false,
    );
  const storage = services.objects.check().then(
    (answer) => answer.ok,
    () => false,
  );
  return { database: await database, storage: await storage };
}
