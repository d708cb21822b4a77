import { linkKey, openSessions } from '@grainwright/auth';
import { openDatabase } from '@grainwright/db';
import { type Instant, instant } from '@grainwright/domain';
import { diskStorage, type ObjectStore, type S3Settings, s3Storage } from '@grainwright/evidence';
import { v7 } from 'uuid';
import type { LinkSettings, Services } from './services.ts';
import { registrySessionStore } from './sign-in/session-store.ts';

export interface ServiceSettings {
  /** The address of the database with the login that owns nothing. */
  readonly loginUrl: string;
  /** The folder that holds what comes in and, unless they are elsewhere, photos and documents. */
  readonly objectsFolder: string;
  /** A store that speaks S3, instead of the folder. */
  readonly s3?: S3Settings | null;
  readonly connections?: number;
  /** Where browsers reach the service, for the links in mails; this computer at the usual port unless given. */
  readonly publicUrl?: string | undefined;
  /** The computer's clock unless given. */
  readonly now?: () => Instant;
}

export interface OpenedServices {
  readonly services: Services;
  /** Where files land while they come in, on the file system of the objects. */
  readonly temporaryFolder: string;
  close(): Promise<void>;
}

/** Far longer than the web process lets an upload take. */
const longestUploadMilliseconds = 3_600_000;

/** Opens what operations need: pools, the object store, sessions over the registry. */
export async function openServices(settings: ServiceSettings): Promise<OpenedServices> {
  const now = settings.now ?? (() => instant(new Date()));
  const database = openDatabase(settings.loginUrl, settings.connections);
  const folder = await diskStorage(settings.objectsFolder);
  const bucket = settings.s3 ? s3Storage(settings.s3) : null;
  const objects: ObjectStore = bucket ?? folder;
  // What was coming in when a process died. Another process may be receiving right now: its files are younger.
  await folder.sweepTemporary(new Date(Date.now() - longestUploadMilliseconds));
  const sessions = openSessions(registrySessionStore(database));
  return {
    services: { database, sessions, objects, links: linkSettings(settings), now, newId: () => v7() },
    temporaryFolder: folder.temporaryDirectory,
    close: async () => {
      bucket?.close();
      await database.close();
    },
  };
}

/** The key follows from the login's password, so that there is no further secret to keep. */
function linkSettings({ loginUrl, publicUrl = 'http://127.0.0.1:8080' }: ServiceSettings): LinkSettings {
  return { key: linkKey(new URL(loginUrl).password), publicUrl: publicUrl.replace(/\/+$/, '') };
}
