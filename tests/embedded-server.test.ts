import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { chmod, mkdir, mkdtemp, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { startEmbeddedServer, stopAbandonedServer } from '@grainwright/db';
import postgres from 'postgres';
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';

/** Initialized once for the whole file: each test starts the server on it and leaves it stopped. */
let directory = '';
const running: { stop(): Promise<void> }[] = [];
const folders: string[] = [];

async function emptyFolder(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'grainwright-server-'));
  folders.push(folder);
  return folder;
}

beforeAll(async () => {
  directory = await emptyFolder();
});

afterEach(async () => {
  await Promise.all(running.splice(0).map((server) => server.stop()));
  await stopAbandonedServer(directory);
});

afterAll(async () => {
  await Promise.all(folders.map((folder) => rm(folder, { recursive: true, force: true })));
});

const refusal = (detail: RegExp) => ({
  ok: false,
  problem: { code: 'unavailable', detail: expect.stringMatching(detail) },
});

async function start(options: { readonly directory?: string; readonly port?: number } = {}) {
  const started = await startEmbeddedServer({ directory, ...options, fsync: false });
  if (!started.ok) throw new Error(started.problem.detail);
  running.push(started.value);
  return started.value;
}

async function query(url: string, text: string): Promise<readonly unknown[]> {
  const sql = postgres(url, { max: 1, onnotice: () => undefined });
  try {
    return [...(await sql.unsafe(text))];
  } finally {
    await sql.end({ timeout: 5 });
  }
}

async function postmasterPid(): Promise<number> {
  return Number((await readFile(join(directory, 'data', 'postmaster.pid'), 'utf8')).split('\n')[0]);
}

const keepOneRow = 'drop table if exists kept; create table kept (id int); insert into kept values (42)';

test('data is kept over stop and start, and only 127.0.0.1 is served', async () => {
  const first = await start();
  await query(first.adminUrl, keepOneRow);
  expect(new URL(first.adminUrl).hostname).toBe('127.0.0.1');
  expect(await query(first.adminUrl, 'show listen_addresses')).toEqual([{ listen_addresses: '127.0.0.1' }]);
  await first.stop();
  const second = await start();
  expect(await query(second.adminUrl, 'select id from kept')).toEqual([{ id: 42 }]);
});

test('the database is UTF-8 and sorts by code point on every system', async () => {
  const server = await start();
  const rows = await query(
    server.adminUrl,
    `select pg_encoding_to_char(encoding) as encoding, datlocprovider as provider, datlocale as locale
     from pg_database where datname = current_database()`,
  );
  expect(rows).toEqual([{ encoding: 'UTF8', provider: 'b', locale: 'C.UTF-8' }]);
});

test('the password is in a file that only its owner can read', async () => {
  const server = await start();
  const file = join(directory, 'password');
  expect((await stat(file)).mode & 0o777).toBe(0o600);
  expect((await readFile(file, 'utf8')).trim()).toBe(new URL(server.adminUrl).password);
});

test('stop waits for the end, and may be called twice', async () => {
  const server = await start();
  expect(await postmasterPid()).toBeGreaterThan(0);
  await Promise.all([server.stop(), server.stop()]);
  await expect(postmasterPid()).rejects.toThrow('ENOENT');
  await expect(query(server.adminUrl, 'select 1')).rejects.toThrow('ECONNREFUSED');
});

test('a server killed at once, and its stale pid file, do not keep the next from starting', async () => {
  const child = startInChild();
  const adminUrl = await addressFrom(child);
  await query(adminUrl, keepOneRow);
  const pid = await postmasterPid();
  child.kill('SIGKILL');
  process.kill(pid, 'SIGKILL');
  await once(child, 'exit');
  const next = await start();
  expect(await query(next.adminUrl, 'select id from kept')).toEqual([{ id: 42 }]);
});

test('a pid file that now names another living program is not taken for a server', async () => {
  const first = await start();
  const file = join(directory, 'data', 'postmaster.pid');
  const lines = (await readFile(file, 'utf8')).split('\n');
  await first.stop();
  await writeFile(file, [String(process.pid), ...lines.slice(1)].join('\n'));
  const second = await start();
  expect(await query(second.adminUrl, 'select 1 as one')).toEqual([{ one: 1 }]);
});

test('a server left running by a killed process is stopped and started anew, its data kept', async () => {
  const child = startInChild();
  const adminUrl = await addressFrom(child);
  await query(adminUrl, keepOneRow);
  const leftOver = await postmasterPid();
  child.kill('SIGKILL');
  await once(child, 'exit');
  const next = await start({ port: Number(new URL(adminUrl).port) });
  expect(await postmasterPid()).not.toBe(leftOver);
  expect(await query(next.adminUrl, 'select id from kept')).toEqual([{ id: 42 }]);
});

test('a server killed under a living process is started again on the same address', async () => {
  const server = await start();
  await query(server.adminUrl, keepOneRow);
  process.kill(await postmasterPid(), 'SIGKILL');
  await expect
    .poll(() => query(server.adminUrl, 'select id from kept').catch(() => []), { timeout: 20_000 })
    .toEqual([{ id: 42 }]);
});

test('Ctrl-C in the terminal, which reaches the whole process group, leaves the stopping to us', async () => {
  const child = startInChild('process.on("SIGINT", () => undefined);');
  const adminUrl = await addressFrom(child);
  process.kill(-(child.pid ?? 0), 'SIGINT');
  expect(await query(adminUrl, 'select 1 as one')).toEqual([{ one: 1 }]);
  child.kill('SIGKILL');
  await once(child, 'exit');
});

test('a data folder that another process uses is refused, and that process keeps its server', async () => {
  const server = await start();
  expect(await startEmbeddedServer({ directory })).toEqual(refusal(/in use by another running Grainwright/));
  expect(await query(server.adminUrl, 'select 1 as one')).toEqual([{ one: 1 }]);
});

test('a data folder of another major version of Postgres is refused', async () => {
  const other = await emptyFolder();
  await mkdir(join(other, 'data'));
  await writeFile(join(other, 'data', 'PG_VERSION'), '15\n');
  const result = await startEmbeddedServer({ directory: other });
  expect(result).toEqual(refusal(/made by Postgres 15, but .* Postgres 18/));
});

test('a port in use is refused', async () => {
  const other = createServer();
  await new Promise<void>((resolve) => other.listen(0, '127.0.0.1', resolve));
  const address = other.address();
  const port = address !== null && typeof address === 'object' ? address.port : 0;
  const result = await startEmbeddedServer({ directory, port, fsync: false });
  other.close();
  expect(result).toEqual(refusal(new RegExp(`Port ${port} is in use`)));
});

test('a file where the folder should be, and a folder of something else, are refused', async () => {
  const other = await emptyFolder();
  await writeFile(join(other, 'a-file'), '');
  const inFile = await startEmbeddedServer({ directory: join(other, 'a-file') });
  expect(inFile).toEqual(refusal(/is a file where a folder is needed/));
  await mkdir(join(other, 'data'));
  await writeFile(join(other, 'data', 'holiday.jpg'), '');
  expect(await startEmbeddedServer({ directory: other })).toEqual(refusal(/not a Postgres database/));
});

test('data whose password file is gone is refused, not made anew', async () => {
  const other = await emptyFolder();
  await mkdir(join(other, 'data'));
  await writeFile(join(other, 'data', 'PG_VERSION'), '18\n');
  expect(await startEmbeddedServer({ directory: other })).toEqual(refusal(/password is missing/));
});

test.skipIf(process.getuid?.() === 0)('a folder that this user may not write to is refused', async () => {
  const other = await emptyFolder();
  await chmod(other, 0o500);
  const result = await startEmbeddedServer({ directory: join(other, 'inner') });
  expect(result).toEqual(refusal(/may not write to/));
});

test.runIf(process.getuid?.() === 0)('root may keep it in a folder closed to everybody else', async () => {
  const closed = await emptyFolder();
  await chmod(closed, 0o700);
  const server = await start({ directory: join(closed, 'inner') });
  expect(await query(server.adminUrl, 'select 1 as one')).toEqual([{ one: 1 }]);
});

/** A process of its own, at the head of its own group, that starts the server and prints its address. */
function startInChild(before = ''): ChildProcess {
  const script = `
    import { startEmbeddedServer } from '@grainwright/db';
    ${before}
    const started = await startEmbeddedServer({ directory: process.argv[1], fsync: false });
    process.stdout.write(started.ok ? started.value.adminUrl : started.problem.detail);
  `;
  const args = ['--input-type=module', '--eval', script, directory];
  return spawn(process.execPath, args, { detached: true, stdio: ['ignore', 'pipe', 'inherit'] });
}

async function addressFrom(child: ChildProcess): Promise<string> {
  if (child.stdout === null) throw new Error('The child has no output.');
  const [text] = await once(child.stdout, 'data');
  return String(text);
}
