import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm, symlink } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { jobUrl } from '@grainwright/db';
import { openPhoto } from '@grainwright/operations';
import postgres from 'postgres';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { photographed, writtenUpLine } from './support/work-in-hand.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';

let world: World;
let business: Business;
let installer: Account;
let dataFolder: string;
const running = new Set<() => void>();

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  installer = await anAccount(business);
  dataFolder = await mkdtemp(join(tmpdir(), 'grainwright-worker-'));
  await symlink(dirname(world.objects.temporaryDirectory), join(dataFolder, 'objects'));
});

afterAll(async () => {
  for (const kill of running) kill();
  await rm(dataFolder, { recursive: true, force: true });
});

const script = fileURLToPath(new URL('../apps/worker/src/main.ts', import.meta.url));

/** The real process over the world's database and folder. It resolves once the worker says that it takes jobs. */
async function startWorker() {
  const child = spawn(process.execPath, [script], {
    env: {
      ...process.env,
      DATABASE_JOBS_URL: jobUrl(world.adminUrl) ?? '',
      DATABASE_LOGIN_URL: world.loginUrl,
      DATA_DIR: dataFolder,
      STOP_WITH_PARENT: '1',
    },
    stdio: ['pipe', 'pipe', 'pipe'],
  });
  const kill = () => child.kill('SIGKILL');
  running.add(kill);
  let complaints = '';
  child.stderr.on('data', (chunk: Buffer) => {
    complaints += chunk.toString();
  });
  const ended = once(child, 'exit').then(([code]) => {
    running.delete(kill);
    return { code, complaints };
  });
  const [line] = await Promise.race([
    once(createInterface({ input: child.stdout }), 'line'),
    ended.then(({ code }) => Promise.reject(new Error(`the worker ended with ${code}: ${complaints}`))),
  ]);
  expect(line).toBe('worker ready');
  return { child, ended };
}

/** Resolves when the database has copies of one more photo. */
async function nextCopies() {
  const sql = postgres(world.adminUrl, { max: 1 });
  await sql.unsafe(`create or replace function told() returns trigger language plpgsql as
    $$ begin perform pg_notify('copies', new.photo_id::text); return null; end $$;
    create or replace trigger told after insert on photo_derivatives for each row when (new.kind = 'thumb') execute function told()`);
  const { promise, resolve } = Promise.withResolvers<string>();
  await sql.listen('copies', resolve);
  return { made: promise, stop: () => sql.end() };
}

test('a photo’s copies are made by the worker, and it ends cleanly when told to', async () => {
  const { child, ended } = await startWorker();
  const copies = await nextCopies();
  const work = await writtenUpLine(installer);
  const photoId = await photographed(installer, work.workOrderId, work.lineId, 'before');
  expect(await copies.made).toBe(photoId);
  await copies.stop();
  const view = must(await openPhoto(world.services, installer.viewer, { photoId, kind: 'view' }));
  expect(view.mediaType).toBe('image/jpeg');
  view.stream?.destroy();
  child.kill('SIGTERM');
  expect(await ended).toEqual({ code: 0, complaints: '' });
});

test('a worker whose parent is gone ends by itself', async () => {
  const { child, ended } = await startWorker();
  child.stdin.end();
  expect(await ended).toEqual({ code: 0, complaints: '' });
});
