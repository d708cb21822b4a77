import { fileURLToPath } from 'node:url';
import { ok, type Result } from '@grainwright/domain';
import { type Child, startChild } from './child-process.ts';
import { ensureDemo } from './demo/ensure-demo.ts';
import { demoSignIns } from './demo/sign-ins.ts';
import { claimPort } from './free-port.ts';
import { type PreparedDatabase, prepareDatabase } from './prepared-database.ts';
import type { CliSettings } from './settings.ts';

type ServingPart = 'web' | 'worker';
/** A part that can be started alone, where each has a machine or container of its own. */
export const startParts = ['prepare', 'worker', 'web'] as const;

export interface StartOptions {
  readonly wantsDemo: boolean;
  /** Null: all of them. `prepare` brings the database and the demo into order and ends. */
  readonly only: (typeof startParts)[number] | null;
}

/**
 * Everything up, in order: database, migrations, demo on first run, web and worker. Resolves with the exit code
 * after a signal, or after one of the two ended by itself, once all of it is down again.
 */
export async function start(
  settings: CliSettings,
  { wantsDemo, only }: StartOptions,
): Promise<Result<number>> {
  const stop = listenForStop();
  const port = await claimPort(settings.host, settings.port);
  if (!port.ok) return port;
  const database = await prepareDatabase(settings);
  if (!database.ok) return database;
  try {
    if (stop.asked()) return ok(0);
    const demo =
      only === null || only === 'prepare'
        ? await ensureDemo(settings, database.value, { wanted: wantsDemo, brokenOff: stop.asked })
        : ok(false);
    if (!demo.ok) return demo;
    if (demo.value && only === 'prepare') process.stdout.write(`${demoSignIns()}\n`);
    if (stop.asked() || only === 'prepare') return ok(0);
    const parts = only === null ? (['worker', 'web'] as const) : [only];
    return await serve(
      { ...settings, port: port.value },
      database.value,
      { parts, hasDemo: demo.value },
      stop.signal,
    );
  } finally {
    await database.value.stop();
  }
}

async function serve(
  settings: CliSettings,
  database: PreparedDatabase,
  { parts, hasDemo }: { readonly parts: readonly ServingPart[]; readonly hasDemo: boolean },
  stopped: Promise<void>,
): Promise<Result<number>> {
  const environments = { web: webEnvironment, worker: workerEnvironment };
  const children: Child[] = [];
  try {
    for (const name of parts) {
      const child = await startChild(name, script(name), environments[name](settings, database));
      if (!child.ok) return child;
      children.push(child.value);
    }
    if (parts.includes('web')) announce(settings, hasDemo);
    const first = await Promise.race([
      stopped.then(() => null),
      ...children.map(async (child) => ({ child, code: await child.ended })),
    ]);
    if (first === null) return ok(0);
    process.stderr.write(
      `The ${first.child.name} process ended with code ${first.code}, and not because anybody stopped this one; everything else is stopped.\n`,
    );
    return ok(first.code === 0 ? 1 : first.code);
  } finally {
    // Web first: it takes no more requests while the worker ends its job.
    for (const child of children.toReversed()) await child.stop();
  }
}

function announce(settings: CliSettings, hasDemo: boolean): void {
  const host = settings.host.includes(':') ? `[${settings.host}]` : settings.host;
  process.stdout.write(`ready http://${host}:${settings.port}\n`);
  if (hasDemo) process.stdout.write(`${demoSignIns()}\n`);
}

function script(app: 'web' | 'worker'): string {
  return fileURLToPath(new URL(`../../${app}/src/main.ts`, import.meta.url));
}

function webEnvironment(settings: CliSettings, database: PreparedDatabase): Record<string, string> {
  return {
    DATABASE_LOGIN_URL: database.loginUrl,
    DATABASE_URL: '',
    DATA_DIR: settings.dataFolder,
    HOST: settings.host,
    PORT: String(settings.port),
    ...publicUrl(settings),
  };
}

function workerEnvironment(settings: CliSettings, database: PreparedDatabase): Record<string, string> {
  return {
    DATABASE_LOGIN_URL: database.loginUrl,
    DATABASE_JOBS_URL: database.jobUrl,
    DATABASE_URL: '',
    DATA_DIR: settings.dataFolder,
    ...publicUrl(settings),
  };
}

/** Links in mails lead to where people use it, or else to this computer. */
function publicUrl({ publicUrl, port }: CliSettings): Record<string, string> {
  return { PUBLIC_URL: publicUrl ?? `http://127.0.0.1:${port}` };
}

interface Stop {
  readonly signal: Promise<void>;
  asked(): boolean;
}

/**
 * Listens from the very start, so that Ctrl-C during set-up is kept until things can be stopped in order. A second one
 * changes nothing: it would leave the database running behind us.
 */
function listenForStop(): Stop {
  const { promise, resolve } = Promise.withResolvers<void>();
  let asked = false;
  const stop = () => {
    if (!asked) process.stderr.write('Stopping, in order: this takes a moment.\n');
    asked = true;
    resolve();
  };
  process.on('SIGINT', stop);
  process.on('SIGTERM', stop);
  return { signal: promise, asked: () => asked };
}
