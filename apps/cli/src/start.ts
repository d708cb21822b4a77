import { fileURLToPath } from 'node:url';
import { ok, type Result } from '@grainwright/domain';
import { type Child, startChild } from './child-process.ts';
import { ensureDemo } from './demo/ensure-demo.ts';
import { demoSignIns } from './demo/sign-ins.ts';
import { claimPort } from './free-port.ts';
import { type PreparedDatabase, prepareDatabase } from './prepared-database.ts';
import type { CliSettings } from './settings.ts';

/**
 * Everything up, in order: database, migrations, demo on first run, web and worker. Resolves with the exit code
 * after a signal, or after one of the two ended by itself, once all of it is down again.
 */
export async function start(settings: CliSettings, wantsDemo: boolean): Promise<Result<number>> {
  const stopped = stopSignal();
  const port = await claimPort(settings.host, settings.port);
  if (!port.ok) return port;
  const database = await prepareDatabase(settings);
  if (!database.ok) return database;
  try {
    const demo = await ensureDemo(settings, database.value, wantsDemo);
    if (!demo.ok) return demo;
    return ok(await serve({ ...settings, port: port.value }, database.value, demo.value, stopped));
  } finally {
    await database.value.stop();
  }
}

async function serve(
  settings: CliSettings,
  database: PreparedDatabase,
  hasDemo: boolean,
  stopped: Promise<void>,
): Promise<number> {
  const children: Child[] = [];
  try {
    children.push(await startChild('worker', script('worker'), workerEnvironment(settings, database)));
    children.push(await startChild('web', script('web'), webEnvironment(settings, database)));
    announce(settings, hasDemo);
    const first = await Promise.race([
      stopped.then(() => null),
      ...children.map(async (child) => ({ child, code: await child.ended })),
    ]);
    if (first === null) return 0;
    process.stderr.write(
      `The ${first.child.name} process ended by itself with code ${first.code}; everything else is stopped.\n`,
    );
    return first.code === 0 ? 1 : first.code;
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
  };
}

function workerEnvironment(settings: CliSettings, database: PreparedDatabase): Record<string, string> {
  return {
    DATABASE_LOGIN_URL: database.loginUrl,
    DATABASE_JOBS_URL: database.jobUrl,
    DATABASE_URL: '',
    DATA_DIR: settings.dataFolder,
  };
}

/** Listens from the very start, so that Ctrl-C during set-up is kept until things can be stopped in order. */
function stopSignal(): Promise<void> {
  return new Promise((resolve) => {
    process.once('SIGINT', () => resolve());
    process.once('SIGTERM', () => resolve());
  });
}
