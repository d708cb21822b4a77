import { randomBytes } from 'node:crypto';
import { access, constants, mkdtemp, readdir, rm, statfs } from 'node:fs/promises';
import { createServer, get } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import postgres, { type Sql } from 'postgres';
import type { TestProject } from 'vitest/node';

declare module 'vitest' {
  export interface ProvidedContext {
    /** An address that answers with the template database, or with status 500 and why there is none. */
    readonly templateBroker: string;
  }
}

/** A migrated database for tests to clone, and the administrator's address of another one on its server. */
export interface TemplateDatabase {
  readonly adminUrl: string;
  readonly template: string;
}

interface TestServer {
  readonly adminUrl: string;
  stop(): Promise<void>;
}

const migrationsDirectory = fileURLToPath(new URL('../../migrations', import.meta.url));
const folderPrefix = 'grainwright-test-';
const sharedMemoryBytesMin = 1_500_000_000;
const pingMilliseconds = 1_000;
const image = 'postgres:18-alpine';

/**
 * Offers one migrated Postgres to the test files, and starts it when the first of them asks: tests of pure
 * rules neither wait for it nor fail with it, and a failure is reported, with its reason, by those who need it.
 */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  let offered: Promise<TemplateDatabase & TestServer> | undefined;
  const broker = createServer((_request, reply) => {
    offered ??= offerTemplate();
    offered.then(
      ({ adminUrl, template }) => reply.end(JSON.stringify({ adminUrl, template })),
      (error: unknown) => reply.writeHead(500).end(error instanceof Error ? error.message : String(error)),
    );
  });
  await new Promise<void>((resolve) => broker.listen(0, '127.0.0.1', resolve));
  const address = broker.address();
  if (address === null || typeof address === 'string') throw new Error('The broker has no port.');
  project.provide('templateBroker', `http://127.0.0.1:${address.port}/`);
  return async () => {
    broker.close();
    broker.closeAllConnections();
    const server = await offered?.catch(() => undefined);
    await server?.stop();
  };
}

async function offerTemplate(): Promise<TemplateDatabase & TestServer> {
  const server = await startServer();
  const template = `grainwright_test_${randomBytes(6).toString('hex')}`;
  const sql = postgres(server.adminUrl, { max: 1, onnotice: () => undefined });
  const stop = async () => {
    await dropAll(sql, template);
    await sql.end({ timeout: 5 });
    await server.stop();
  };
  try {
    await sql.unsafe(`create database ${template} template template0`);
    const { migrate } = await import('@grainwright/db');
    const url = new URL(server.adminUrl);
    url.pathname = `/${template}`;
    const migrated = await migrate(url.href, { migrationsDirectory });
    if (!migrated.ok) throw new Error(migrated.problem.detail);
    // Nobody may connect, not even autovacuum: a connection to a template stops it from being cloned.
    await sql.unsafe(`alter database ${template} allow_connections false`);
    return { adminUrl: server.adminUrl, template, stop };
  } catch (error) {
    await stop();
    throw error;
  }
}

/** The template, and what a test file that was cut off left of its clones, whose names begin like it. */
async function dropAll(sql: Sql, template: string): Promise<void> {
  const left = await sql<{ name: string }[]>`
    select datname as name from pg_database where starts_with(datname, ${template})`;
  for (const { name } of left) await sql.unsafe(`drop database if exists ${name} with (force)`);
}

async function startServer(): Promise<TestServer> {
  const named = process.env.TEST_DATABASE_URL;
  if (named !== undefined && named !== '') return { adminUrl: named, stop: async () => undefined };
  if (await dockerAnswers()) {
    const container = await startContainer().catch((error: unknown) => {
      process.stderr.write(`Docker answers, but the container did not start (${String(error)}).\n`);
      return undefined;
    });
    if (container !== undefined) return container;
  }
  return startEmbedded();
}

/** Whether an engine is there: the client program alone runs no container. */
function dockerAnswers(): Promise<boolean> {
  const host = process.env.DOCKER_HOST ?? 'unix:///var/run/docker.sock';
  const { hostname, port } = new URL(host.replace(/^tcp:/, 'http:'));
  const where = host.startsWith('unix://')
    ? { socketPath: host.slice('unix://'.length) }
    : { hostname, port };
  return new Promise((resolve) => {
    const request = get({ ...where, path: '/_ping', timeout: pingMilliseconds }, (reply) => {
      reply.resume();
      resolve(reply.statusCode === 200);
    });
    request.on('timeout', () => request.destroy());
    request.on('error', () => resolve(false));
    request.on('close', () => resolve(false));
  });
}

async function startContainer(): Promise<TestServer> {
  const { PostgreSqlContainer } = await import('@testcontainers/postgresql');
  const container = await new PostgreSqlContainer(image)
    .withEnvironment({
      POSTGRES_INITDB_ARGS: '--encoding=UTF8 --locale=C --locale-provider=builtin --builtin-locale=C.UTF-8',
    })
    .withCommand(['postgres', '-c', 'fsync=off', '-c', 'full_page_writes=off', '-c', 'max_connections=200'])
    .start();
  const stop = async () => {
    await container.stop();
  };
  return { adminUrl: container.getConnectionUri(), stop };
}

async function startEmbedded(): Promise<TestServer> {
  const { startEmbeddedServer } = await import('@grainwright/db');
  const parent = await folderForData();
  await removeAbandoned(parent);
  const directory = await mkdtemp(join(parent, `${folderPrefix}${process.pid}-`));
  const remove = () => rm(directory, { recursive: true, force: true });
  const started = await startEmbeddedServer({ directory, fsync: false });
  if (!started.ok) {
    await remove();
    throw new Error(started.problem.detail);
  }
  const stop = async () => {
    await started.value.stop();
    await remove();
  };
  return { adminUrl: started.value.adminUrl, stop };
}

/** Memory where there is enough of it; containers often have only a sliver. */
async function folderForData(): Promise<string> {
  try {
    const { bavail, bsize } = await statfs('/dev/shm');
    await access('/dev/shm', constants.W_OK);
    return bavail * bsize >= sharedMemoryBytesMin ? '/dev/shm' : tmpdir();
  } catch {
    return tmpdir();
  }
}

/** Servers and data of test runs that were killed; the name of each folder says whose it was. */
async function removeAbandoned(parent: string): Promise<void> {
  const { stopAbandonedServer } = await import('@grainwright/db');
  const names = (await readdir(parent)).filter((name) => name.startsWith(folderPrefix));
  for (const name of names) {
    const pid = Number(name.slice(folderPrefix.length).split('-')[0]);
    if (isRunning(pid)) continue;
    const directory = join(parent, name);
    const stopped = await stopAbandonedServer(directory);
    if (stopped.ok) await rm(directory, { recursive: true, force: true });
  }
}

function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return error instanceof Error && 'code' in error && error.code === 'EPERM';
  }
}
