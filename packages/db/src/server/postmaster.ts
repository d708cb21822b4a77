import { readFile, readlink, realpath, stat, truncate, writeFile } from 'node:fs/promises';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { ok, type Result } from '@grainwright/domain';
import type { ServerBinaries } from './binaries.ts';
import type { DataFolder } from './data-folder.ts';
import { runProgram } from './run-program.ts';
import { explainOutput, portIsTaken, stillEnding, systemCode } from './start-problem.ts';

const attemptsMax = 40;
const pauseMilliseconds = 250;
const pidOfNobody = 2_147_483_646;
const logSizeBytesMax = 5_000_000;

/** Starts the server in its own session and waits until it takes connections; answers its port. */
export async function startPostmaster(
  folder: DataFolder,
  binaries: ServerBinaries,
  wish: { readonly port: number | undefined; readonly fsync: boolean },
): Promise<Result<number>> {
  for (let attempt = 1; ; attempt += 1) {
    const port = wish.port ?? (await freePort());
    const offset = await logOffset(folder.log);
    const { code, output } = await runProgram(folder.runAs, binaries.pgCtl, [
      'start',
      '--wait',
      '--timeout=120',
      `--pgdata=${folder.data}`,
      `--log=${folder.log}`,
      `--options=${settings(port, wish.fsync)}`,
    ]);
    if (code === 0) return ok(port);
    const said = `${output}\n${await logSince(folder.log, offset)}`;
    const passes = stillEnding(said) || (wish.port === undefined && portIsTaken(said));
    if (!passes || attempt === attemptsMax) return explainOutput(said, { directory: folder.directory, port });
    await pause(pauseMilliseconds);
  }
}

/** A fast shutdown: transactions are rolled back, connections closed, everything written. Waits for the end. */
export async function stopPostmaster(folder: DataFolder, binaries: ServerBinaries): Promise<void> {
  const args = ['stop', '--mode=fast', '--wait', '--timeout=120', `--pgdata=${folder.data}`];
  await runProgram(folder.runAs, binaries.pgCtl, args);
}

/**
 * The port of the server that runs on this data folder, or undefined when none does. A pid file left by a
 * crash is no proof: its number may meanwhile belong to another program, or to a dead process that nobody has
 * collected. Postgres would take either for a running server, so the number is replaced by one that no process
 * has; the rest of the file stays, because by it Postgres waits for what the dead server left running.
 */
export async function runningPort(folder: DataFolder): Promise<number | undefined> {
  const file = join(folder.data, 'postmaster.pid');
  const [first, ...rest] = await readFile(file, 'utf8').then(
    (text) => text.split('\n'),
    () => [],
  );
  const pid = Number(first);
  if (first === undefined || !Number.isInteger(pid) || pid <= 0 || !isAlive(pid)) return undefined;
  if (await worksIn(pid, folder.data)) return Number(rest[2]);
  await writeFile(file, [pidOfNobody, ...rest].join('\n'));
  return undefined;
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return systemCode(error) === 'EPERM';
  }
}

/** Postgres changes into its data folder at start, so on Linux the folder a process works in is the proof. */
async function worksIn(pid: number, data: string): Promise<boolean> {
  if (process.platform !== 'linux') return commandNames(pid, data);
  try {
    return (await readlink(`/proc/${pid}/cwd`)) === (await realpath(data));
  } catch {
    return false;
  }
}

async function commandNames(pid: number, data: string): Promise<boolean> {
  try {
    const { output } = await runProgram({ through: [] }, 'ps', ['-p', String(pid), '-o', 'command=']);
    return output.includes(data);
  } catch {
    return true;
  }
}

function settings(port: number, fsync: boolean): string {
  const safe = fsync
    ? []
    : ['fsync=off', 'full_page_writes=off', 'synchronous_commit=off', 'max_wal_size=4GB'];
  const all = [
    `port=${port}`,
    'listen_addresses=127.0.0.1',
    'unix_socket_directories=',
    'max_connections=200',
    'timezone=UTC',
    'log_timezone=UTC',
    'log_checkpoints=off',
    ...safe,
  ];
  return all.map((setting) => `-c ${setting}`).join(' ');
}

async function logOffset(log: string): Promise<number> {
  const sizeBytes = await stat(log).then(
    ({ size }) => size,
    () => 0,
  );
  if (sizeBytes <= logSizeBytesMax) return sizeBytes;
  await truncate(log);
  return 0;
}

async function logSince(log: string, offset: number): Promise<string> {
  return readFile(log).then(
    (bytes) => bytes.subarray(offset).toString('utf8'),
    () => '',
  );
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.on('error', reject);
    probe.listen(0, '127.0.0.1', () => {
      const address = probe.address();
      const port = typeof address === 'object' && address !== null ? address.port : 0;
      probe.close(() => resolve(port));
    });
  });
}
