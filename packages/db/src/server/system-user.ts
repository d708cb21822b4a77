import { dirname } from 'node:path';
import { ok, type Result, refuse } from '@grainwright/domain';
import { type RunAs, runProgram } from './run-program.ts';

const asOurselves: RunAs = { through: [] };

/** True when Postgres, which refuses to run as root, needs another user. */
export function isRoot(): boolean {
  return process.getuid?.() === 0;
}

/**
 * The user that Postgres runs as: ourselves, or for root the owner of the existing data folder, or the system
 * user `postgres`, who is created when missing.
 */
export async function serverUser(owner: { uid: number; gid: number } | undefined): Promise<Result<RunAs>> {
  if (!isRoot()) return ok(asOurselves);
  if (owner !== undefined && owner.uid !== 0) return ok({ ...owner, through: [] });
  const existing = await postgresUser();
  if (existing !== undefined) return ok(existing);
  await createPostgresUser();
  const created = await postgresUser();
  if (created !== undefined) return ok(created);
  return refuse(
    'unavailable',
    'Postgres does not run as root and the system user “postgres” could not be created: start Grainwright as an ordinary user, or name a Postgres server in DATABASE_URL.',
  );
}

/**
 * Root's own folders are often closed to everybody else, and Postgres then finds neither its programs nor its
 * data. Where that is so, it is run with the one capability that lets it pass through such folders.
 */
export async function withReach(user: RunAs, paths: readonly string[]): Promise<Result<RunAs>> {
  if (user.uid === undefined || (await reaches(user, paths))) return ok(user);
  for (const capability of ['dac_read_search', 'dac_override']) {
    const through = [
      'setpriv',
      // Without it access(2), which Postgres asks about its programs, ignores the capability.
      '--securebits=+no_setuid_fixup',
      `--reuid=${user.uid}`,
      `--regid=${user.gid ?? user.uid}`,
      '--clear-groups',
      `--inh-caps=+${capability}`,
      `--ambient-caps=+${capability}`,
      '--',
    ];
    if (await reaches({ through }, paths)) return ok({ through });
  }
  return refuse(
    'unavailable',
    `Postgres does not run as root, and the user it runs as cannot reach ${paths.map((path) => dirname(path)).join(' or ')}: start Grainwright as an ordinary user, or move it to a folder that everybody may enter.`,
  );
}

async function reaches(runAs: RunAs, paths: readonly string[]): Promise<boolean> {
  const test = 'for path in "$@"; do test -x "$path" || exit 1; done';
  return succeeds(runAs, '/bin/sh', ['-c', test, 'sh', ...paths]);
}

async function postgresUser(): Promise<RunAs | undefined> {
  const [uid, gid] = await Promise.all([idOf('-u'), idOf('-g')]);
  return uid === undefined || gid === undefined ? undefined : { uid, gid, through: [] };
}

async function idOf(flag: '-u' | '-g'): Promise<number | undefined> {
  try {
    const { code, output } = await runProgram(asOurselves, 'id', [flag, 'postgres']);
    return code === 0 ? Number.parseInt(output, 10) : undefined;
  } catch {
    return undefined;
  }
}

async function createPostgresUser(): Promise<void> {
  await succeeds(asOurselves, 'groupadd', ['--system', 'postgres']);
  const made = await succeeds(asOurselves, 'useradd', ['--system', '-g', 'postgres', 'postgres']);
  if (!made) await succeeds(asOurselves, 'adduser', ['-S', '-D', '-H', 'postgres']);
}

async function succeeds(runAs: RunAs, program: string, args: readonly string[]): Promise<boolean> {
  try {
    return (await runProgram(runAs, program, args)).code === 0;
  } catch {
    return false;
  }
}
