import { takeSignInAttempt } from '@grainwright/db';
import { instant, ok } from '@grainwright/domain';
import { sql } from 'drizzle-orm';
import postgres from 'postgres';
import { beforeAll, expect, test } from 'vitest';
import { openWorld, type World } from './support/world.ts';

let world: World;
beforeAll(async () => {
  world = await openWorld();
});

async function asAdministrator(work: (admin: postgres.Sql) => Promise<unknown>): Promise<void> {
  const admin = postgres(world.adminUrl, { max: 1, onnotice: () => undefined });
  await work(admin);
  await admin.end();
}

test('a connection lost before COMMIT says that the same can be sent again', async () => {
  const answer = await world.database.withRegistry(async (tx) => {
    const [row] = await tx.execute<{ pid: number }>(sql`select pg_backend_pid() as pid`);
    await asAdministrator((admin) => admin`select pg_terminate_backend(${row?.pid ?? 0}, 5000)`);
    await tx.execute(sql`select 1`);
    return ok('never');
  });
  expect(answer).toEqual({
    ok: false,
    problem: {
      code: 'unavailable',
      detail: 'The database can’t be reached. Send the same again in a moment: it will not be done twice.',
    },
  });
});

test('a connection lost in COMMIT does not claim that nothing was saved', async () => {
  await asAdministrator((admin) =>
    admin.unsafe(`
      create function registry.lose() returns trigger language plpgsql security definer
        as $$ begin perform pg_terminate_backend(pg_backend_pid()); return null; end $$;
      create constraint trigger lose after insert on registry.sign_in_failures
        deferrable initially deferred for each row execute function registry.lose();`),
  );
  const [now, later] = [instant('2026-08-05T14:00:00Z'), instant('2026-08-05T14:15:00Z')];
  const answer = await world.database.withRegistry(async (tx) =>
    ok(await takeSignInAttempt(tx, 'somebody', now, later)),
  );
  expect(answer).toEqual({
    ok: false,
    problem: {
      code: 'unavailable',
      detail:
        'The connection to the database broke off. It is not known whether this was saved. Send the same form again: it will not be done twice.',
    },
  });
});

test('a connection lost between two statements refuses what follows, and the pool goes on', async () => {
  const client = postgres(world.adminUrl, { max: 1, onnotice: () => undefined });
  const refused: unknown[] = [];
  const followed = Promise.withResolvers<void>();
  const lost = client.begin(async (tx) => {
    const [row] = await tx<{ pid: number }[]>`select pg_backend_pid() as pid`;
    await asAdministrator((admin) => admin`select pg_terminate_backend(${row?.pid ?? 0}, 5000)`);
    for (let attempt = 0; attempt < 4; attempt += 1)
      await tx`select 1`.catch((error: unknown) => refused.push(error));
    followed.resolve();
  });
  await expect(lost).rejects.toThrow('CONNECTION_CLOSED');
  await followed.promise;
  expect(refused).toHaveLength(4);
  expect(await client`select 1 as one`).toEqual([{ one: 1 }]);
  await client.end();
});
