import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { addressOfRunningServer, jobUrl, loginUrl, migrate, startEmbeddedServer } from '@grainwright/db';
import { ok, type Result } from '@grainwright/domain';
import { makeDataFolder } from './data-folder.ts';
import type { CliSettings } from './settings.ts';

export interface PreparedDatabase {
  readonly adminUrl: string;
  readonly loginUrl: string;
  readonly jobUrl: string;
  /** True for our own server under the data folder. */
  readonly embedded: boolean;
  /** Stops our own server; leaves another one alone. */
  stop(): Promise<void>;
}

const migrationsDirectory = fileURLToPath(new URL('../../../migrations', import.meta.url));

/**
 * The database, up and migrated: the one that DATABASE_URL names, or our own. A command of its own may join the server
 * that `npm start` runs on the same data folder.
 */
export async function prepareDatabase(
  settings: CliSettings,
  mayJoin = false,
): Promise<Result<PreparedDatabase>> {
  const running =
    mayJoin && settings.databaseUrl === null
      ? await addressOfRunningServer(join(settings.dataFolder, 'postgres'))
      : undefined;
  const server =
    running === undefined ? await openServer(settings) : ok({ adminUrl: running, stop: async () => {} });
  if (!server.ok) return server;
  const { adminUrl, stop } = server.value;
  const migrated = await migrateDatabase(adminUrl);
  if (!migrated.ok) {
    await stop();
    return migrated;
  }
  const urls = { login: loginUrl(adminUrl), job: jobUrl(adminUrl) };
  if (urls.login === undefined || urls.job === undefined)
    throw new Error('a migrated database has no password');
  return ok({
    adminUrl,
    loginUrl: urls.login,
    jobUrl: urls.job,
    embedded: settings.databaseUrl === null,
    stop,
  });
}

/** Brings the database to the state that this version needs. */
export function migrateDatabase(adminUrl: string): Promise<Result<unknown>> {
  return migrate(adminUrl, { migrationsDirectory });
}

async function openServer(
  settings: CliSettings,
): Promise<Result<{ adminUrl: string; stop(): Promise<void> }>> {
  if (settings.databaseUrl !== null) return ok({ adminUrl: settings.databaseUrl, stop: async () => {} });
  const made = await makeDataFolder(settings.dataFolder);
  if (!made.ok) return made;
  return startEmbeddedServer({ directory: join(settings.dataFolder, 'postgres') });
}
