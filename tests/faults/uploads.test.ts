import { createHash } from 'node:crypto';
import { watch } from 'node:fs';
import { readdir, readFile, utimes } from 'node:fs/promises';
import { join } from 'node:path';
import { sweepOrphans } from '@grainwright/operations';
import postgres from 'postgres';
import { expect, test } from 'vitest';
import { sample } from '../../packages/evidence/src/photo/photo-fixtures.ts';
import { asAdministrator, startedLine } from '../support/work-in-hand.ts';
import { aBusiness, anAccount, must, openWorld } from '../support/world.ts';
import { type PhoneWorld, type PhotoToSend, sendInParts, sendWhole, signIn } from './phone.ts';
import { moments, type Progress, randomFrom } from './random-moments.ts';
import { type WebProcess, webProcesses } from './web-processes.ts';

/** As many as asked for; each costs the start of a process. */
const killsMax = Number(process.env.FAULT_KILLS ?? 50);
const seed = Number(process.env.FAULT_SEED ?? 20_260_805);

test('the web process killed at any moment of an upload loses nothing, does nothing twice and leaves nothing', {
  timeout: 600_000,
}, async () => {
  const world = await openWorld();
  const business = await aBusiness(world);
  const account = await anAccount(business, { limit: null });
  const work = await startedLine(account);
  const processes = await webProcesses(world, 2);

  const struck: string[] = [];
  const first = await processes.next();
  let current = Promise.resolve<WebProcess>(first);
  const token = await signIn(first.port, business.emailOf('technician'), business.password);
  let dying = false;
  const strike = (moment: string) => {
    if (dying || struck.length === killsMax) return;
    dying = true;
    struck.push(moment);
    current = current.then(async (process) => {
      await process.kill();
      dying = false;
      return processes.next();
    });
  };
  const { count } = moments(randomFrom(seed), strike);
  const progress = (what: Progress, by?: number) => {
    if (!dying) count(what, by);
  };

  const changes = watch(world.objectsFolder, { recursive: true }, () => progress('stored'));
  const sql = await tellCommits(world.adminUrl, () => progress('committed'));
  const phone: PhoneWorld = {
    token,
    work,
    port: async () => (await current).port,
    sent: (bytes) => progress('sent', bytes),
  };
  const acknowledged: PhotoToSend[] = [];
  const sendUntilKilled = async (send: typeof sendWhole, mark: number) => {
    for (let number = 0; struck.length < killsMax; number += 1) {
      const photo = await aPhoto(world.newId, mark + number);
      await send(phone, photo);
      acknowledged.push(photo);
    }
  };
  try {
    await Promise.all([sendUntilKilled(sendWhole, 0), sendUntilKilled(sendInParts, 100_000)]);
  } finally {
    changes.close();
    await sql.end();
    await processes.close();
  }
  process.stderr.write(
    `killed ${struck.length} times with seed ${seed}, ${acknowledged.length} photos acknowledged: ${struck.join(', ')}\n`,
  );

  const rows = await asAdministrator<PhotoRow>(
    world,
    (admin) => admin<PhotoRow[]>`select id, sha256, storage_key from photos where purpose = 'progress'`,
  );
  expect(rows.map(({ id, sha256 }) => `${id} ${sha256}`).toSorted()).toEqual(
    acknowledged.map(({ photoId, sha256 }) => `${photoId} ${sha256}`).toSorted(),
  );
  const named = await asAdministrator<{ key: string }>(
    world,
    (admin) => admin<{ key: string }[]>`select storage_key as key from photos
      union select storage_key from photo_derivatives union select storage_key from upload_parts`,
  );
  const keys = named.map(({ key }) => key).toSorted();
  for (const key of keys)
    expect([key, digestOf(await readFile(join(world.objectsFolder, key)))]).toEqual([key, key.slice(-64)]);

  await ageEverything(world.objectsFolder);
  const { tenantId } = business;
  const sweep = { tenantId, lastWrittenBefore: new Date('2021-01-01T00:00:00Z'), remove: true };
  const { orphans } = must(await sweepOrphans(world.services, sweep));
  process.stderr.write(`${orphans.length} objects without a row were swept\n`);
  const listed: string[] = [];
  for await (const { key } of world.objects.list(tenantId)) listed.push(key);
  expect(listed.toSorted()).toEqual(keys);
  await world.objects.sweepTemporary(sweep.lastWrittenBefore);
  expect(await readdir(world.objects.temporaryDirectory)).toEqual([]);
  expect(struck).toHaveLength(killsMax);
});

interface PhotoRow {
  readonly id: string;
  readonly sha256: string;
  readonly storage_key: string;
}

const digestOf = (bytes: Buffer) => createHash('sha256').update(bytes).digest('hex');

/** Told of every commit that has something of an upload in it. */
async function tellCommits(adminUrl: string, committed: () => void): Promise<postgres.Sql> {
  const sql = postgres(adminUrl, { max: 2, onnotice: () => undefined });
  await sql.unsafe(`create function told_commit() returns trigger language plpgsql as
    $$ begin perform pg_notify('commits', tg_table_name); return null; end $$`);
  for (const table of ['uploads', 'upload_parts', 'photos'])
    await sql.unsafe(
      `create trigger told_commit after insert or update or delete on ${table} for each statement execute function told_commit()`,
    );
  await sql.listen('commits', committed);
  return sql;
}

/** Different from every other one, and of a few dozen kilobytes. */
async function aPhoto(newId: () => string, number: number): Promise<PhotoToSend> {
  const plain = await sample({ width: 500 + (number % 97), height: 400 })
    .jpeg({ quality: 100 })
    .toBuffer();
  // A comment (T.81 B.2.4.5) right behind the beginning.
  const comment = Buffer.from(`\xff\xfe\x00\x0e${String(number).padStart(12, '0')}`, 'latin1');
  const bytes = Buffer.concat([plain.subarray(0, 2), comment, plain.subarray(2)]);
  return { photoId: newId(), uploadId: newId(), bytes, sha256: digestOf(bytes) };
}

async function ageEverything(folder: string): Promise<void> {
  const old = new Date('2020-01-01T00:00:00Z');
  for (const entry of await readdir(folder, { recursive: true, withFileTypes: true }))
    if (entry.isFile()) await utimes(join(entry.parentPath, entry.name), old, old);
}
