import { randomBytes } from 'node:crypto';
import { chown, mkdir, readdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { ok, type Result, refuse } from '@grainwright/domain';
import type { ServerBinaries } from './binaries.ts';
import { type RunAs, runProgram } from './run-program.ts';
import { explainOutput, explainSystemError, systemCode } from './start-problem.ts';
import { serverUser, withReach } from './system-user.ts';

/** A folder that is ready to be served: initialized, of our version, with its administrator's password. */
export interface DataFolder {
  readonly directory: string;
  /** Postgres's own data folder inside it. */
  readonly data: string;
  readonly log: string;
  readonly password: string;
  readonly runAs: RunAs;
}

/**
 * Makes the folder, or checks the one that is there. A half-made folder can't come about: initdb works in a
 * folder beside it that is renamed when complete.
 */
export async function prepareDataFolder(
  path: string,
  binaries: ServerBinaries,
  fsync: boolean,
): Promise<Result<DataFolder>> {
  const directory = resolve(path);
  const data = join(directory, 'data');
  try {
    await mkdir(directory, { recursive: true });
    const found = await inspect(data, binaries.major);
    if (!found.ok) return found;
    const user = await serverUser(found.value.owner);
    if (!user.ok) return user;
    await giveTo(user.value, directory);
    const runAs = await withReach(user.value, [binaries.postgres, directory]);
    if (!runAs.ok) return runAs;
    const password = await passwordOf(directory, user.value, found.value.initialized);
    if (!password.ok) return password;
    if (!found.value.initialized) {
      const made = await initialize(directory, data, binaries, runAs.value, user.value, fsync);
      if (!made.ok) return made;
    }
    const log = join(directory, 'server.log');
    return ok({ directory, data, log, password: password.value, runAs: runAs.value });
  } catch (error) {
    const explained = explainSystemError(error, directory);
    if (explained !== undefined) return explained;
    throw error;
  }
}

interface Found {
  readonly initialized: boolean;
  readonly owner: { uid: number; gid: number } | undefined;
}

async function inspect(data: string, major: number): Promise<Result<Found>> {
  const files = await readdir(data).catch((error: unknown) => {
    if (systemCode(error) === 'ENOENT') return undefined;
    throw error;
  });
  if (files === undefined || files.length === 0) return ok({ initialized: false, owner: undefined });
  if (!files.includes('PG_VERSION')) {
    return refuse(
      'unavailable',
      `${data} holds files that are not a Postgres database: name another folder in DATA_DIR.`,
    );
  }
  const { uid, gid } = await stat(data);
  const version = (await readFile(join(data, 'PG_VERSION'), 'utf8')).trim();
  if (version !== String(major)) {
    return refuse(
      'unavailable',
      `The database in ${data} was made by Postgres ${version}, but this Grainwright brings Postgres ${major}: restore a backup into a new folder, or use the Grainwright that made it.`,
    );
  }
  return ok({ initialized: true, owner: { uid, gid } });
}

/** Root makes the folder, but the user that Postgres runs as must own it. */
async function giveTo(user: RunAs, path: string): Promise<void> {
  if (user.uid === undefined) return;
  const { uid } = await stat(path);
  if (uid !== user.uid) await chown(path, user.uid, user.gid ?? user.uid);
}

async function passwordOf(directory: string, user: RunAs, initialized: boolean): Promise<Result<string>> {
  const file = join(directory, 'password');
  try {
    const kept = (await readFile(file, 'utf8')).trim();
    if (kept !== '') return ok(kept);
  } catch (error) {
    if (systemCode(error) !== 'ENOENT') throw error;
  }
  if (initialized) {
    return refuse(
      'unavailable',
      `The file ${file} with the database's password is missing: put it back from a backup.`,
    );
  }
  const password = randomBytes(24).toString('base64url');
  await writeFile(file, `${password}\n`, { mode: 0o600 });
  await giveTo(user, file);
  return ok(password);
}

async function initialize(
  directory: string,
  data: string,
  binaries: ServerBinaries,
  runAs: RunAs,
  user: RunAs,
  fsync: boolean,
): Promise<Result<void>> {
  const beginnings = (await readdir(directory)).filter((name) => name.startsWith('beginning-'));
  await Promise.all(beginnings.map((name) => rm(join(directory, name), { recursive: true, force: true })));
  const beginning = join(directory, `beginning-${process.pid}`);
  await mkdir(beginning, { mode: 0o700 });
  await giveTo(user, beginning);
  const { code, output } = await runProgram(runAs, binaries.initdb, [
    `--pgdata=${beginning}`,
    '--username=postgres',
    `--pwfile=${join(directory, 'password')}`,
    '--auth=scram-sha-256',
    '--encoding=UTF8',
    '--locale=C',
    '--locale-provider=builtin',
    '--builtin-locale=C.UTF-8',
    ...(fsync ? [] : ['--no-sync']),
  ]);
  if (code !== 0) {
    await rm(beginning, { recursive: true, force: true });
    return explainOutput(output, { directory });
  }
  await rename(beginning, data);
  return ok(undefined);
}
