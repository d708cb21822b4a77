import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { linkKey, openSessions } from '@grainwright/auth';
import { type Database, openDatabase } from '@grainwright/db';
import { type Id, type Instant, instant, toId } from '@grainwright/domain';
import { type DiskStorage, diskStorage } from '@grainwright/evidence';
import { registrySessionStore, type Services } from '@grainwright/operations';
import { Temporal } from 'temporal-polyfill';
import { v7 } from 'uuid';
import { afterAll } from 'vitest';
import { freshDatabase } from './database.ts';

export { writeAccountPrice } from '../../apps/cli/src/demo/price-list.ts';
export { must } from './must.ts';
export { type Account, type AccountOptions, anAccount } from './world-account.ts';
export { aBusiness, actorFor, type Business, type BusinessOptions } from './world-business.ts';

/** Services over a database, a folder and a clock of their own. It closes by itself at the end of the test file. */
export interface World {
  readonly services: Services;
  readonly database: Database;
  /** The administrator's address of the database: to look behind the product's back. */
  readonly adminUrl: string;
  readonly loginUrl: string;
  readonly objects: DiskStorage;
  readonly objectsFolder: string;
  /** From now on it is then, local time of the place: `world.at('2026-08-05T09:00')`. */
  at(local: string, timeZone?: string): void;
  /** As `at`, for a moment. */
  setClock(moment: Instant): void;
  newId<T extends Id<string>>(): T;
  close(): Promise<void>;
}

export const homeTimeZone = 'America/Chicago';

/** Call it in `beforeAll` or at the top of a test file. It is 9 in the morning of 2026-08-05 until `at` says otherwise. */
export async function openWorld(): Promise<World> {
  const fresh = await freshDatabase();
  const folder = await mkdtemp(join(tmpdir(), 'grainwright-world-'));
  const database = openDatabase(fresh.loginUrl);
  const objects = await diskStorage(folder);
  let moment = momentAt('2026-08-05T09:00', homeTimeZone);
  const now = () => moment;
  const services: Services = {
    database,
    sessions: openSessions(registrySessionStore(database)),
    objects,
    links: { key: linkKey(new URL(fresh.loginUrl).password), publicUrl: 'http://127.0.0.1:8080' },
    now,
    newId: () => v7(),
  };
  let closed = false;
  const close = async () => {
    if (closed) return;
    closed = true;
    await database.close();
    await rm(folder, { recursive: true, force: true });
  };
  // After the database's own afterAll was registered, and so before it runs: connections close, then the database goes.
  afterAll(close);
  return {
    services,
    database,
    adminUrl: fresh.adminUrl,
    loginUrl: fresh.loginUrl,
    objects,
    objectsFolder: folder,
    at(local, timeZone = homeTimeZone) {
      moment = momentAt(local, timeZone);
    },
    setClock: (then) => {
      moment = then;
    },
    newId: <T extends Id<string>>() => toId<T>(v7()),
    close,
  };
}

function momentAt(local: string, timeZone: string): Instant {
  return instant(Temporal.PlainDateTime.from(local).toZonedDateTime(timeZone).toInstant().toString());
}
