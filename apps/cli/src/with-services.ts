import type { Result } from '@grainwright/domain';
import { type OpenedServices, openServices, type Services } from '@grainwright/operations';
import { prepareDatabase } from './prepared-database.ts';
import { type CliSettings, objectsFolder } from './settings.ts';

/** Runs one command over the prepared database, and closes everything behind it. */
export async function withServices<T>(
  settings: CliSettings,
  work: (services: Services) => Promise<Result<T>>,
): Promise<Result<T>> {
  const database = await prepareDatabase(settings, true);
  if (!database.ok) return database;
  let opened: OpenedServices | null = null;
  try {
    opened = await openServices({
      loginUrl: database.value.loginUrl,
      objectsFolder: objectsFolder(settings),
      s3: settings.s3,
      publicUrl: settings.publicUrl ?? undefined,
      connections: 4,
    });
    return await work(opened.services);
  } finally {
    await opened?.close();
    await database.value.stop();
  }
}
