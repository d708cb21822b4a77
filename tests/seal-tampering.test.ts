import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { auditLinkDigest, auditRecordText, digestHex, instant } from '@grainwright/domain';
import { chainAudit, checkSeals, closeSealDays, sealRecords } from '@grainwright/operations';
import postgres, { type Sql } from 'postgres';
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import { approvedScuff } from './support/sealed-work.ts';
import { aBusiness, anAccount, type Business, must, openWorld, type World } from './support/world.ts';

/**
 * What a superuser can do to a chain behind everybody's back: triggers and keys are off, and the checks of the tables
 * are dropped. Three seals on a day that is closed, two on the day after, and the audit records of all of it.
 */

let world: World;
let business: Business;
let admin: Sql;
const tables = [
  'seals',
  'seal_days',
  'audit_links',
  'audit_records',
  'decisions',
  'decision_lines',
  'photos',
  'chain_heads',
  'seal_requests',
  'audit_waiting',
];

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  const lot = await anAccount(business, { name: 'Cobble Hill Motors', limit: null });
  const { tenantId } = business;
  world.at('2026-08-05T09:00');
  for (let made = 0; made < 3; made += 1) await approvedScuff(lot);
  must(await sealRecords(world.services, tenantId));
  must(await chainAudit(world.services, tenantId));
  world.at('2026-08-06T09:00');
  must(await closeSealDays(world.services, tenantId));
  for (let made = 0; made < 2; made += 1) await approvedScuff(lot);
  must(await sealRecords(world.services, tenantId));
  must(await chainAudit(world.services, tenantId));
  admin = postgres(world.adminUrl, { max: 1, onnotice: () => undefined });
  await admin`set session_replication_role = replica`;
  for (const table of ['seals', 'seal_days', 'audit_links']) await dropChecks(table);
  // Put back as it was kept.
  await admin`alter table audit_records alter column made_on_phone_at drop expression`;
  for (const table of tables) await admin`create table ${admin(`kept_${table}`)} as table ${admin(table)}`;
});
afterEach(async () => {
  for (const table of tables) {
    await admin`delete from ${admin(table)}`;
    await admin`insert into ${admin(table)} select * from ${admin(`kept_${table}`)}`;
  }
});
afterAll(() => admin.end({ timeout: 5 }));

async function dropChecks(table: string): Promise<void> {
  const checks = await admin<{ conname: string }[]>`
    select conname from pg_constraint where conrelid = ${table}::regclass and contype = 'c'`;
  for (const { conname } of checks)
    await admin`alter table ${admin(table)} drop constraint ${admin(conname)}`;
}

const faults = async () => must(await checkSeals(world.services, business.tenantId)).faults;
const sha256 = (text: string) => createHash('sha256').update(text, 'utf8').digest('hex');

/** A seal whose text says something else, with every digest of its own row made to fit. */
async function resealed(number: number, change: (text: string) => string): Promise<void> {
  const [seal] = await admin<{ text: string }[]>`select text from seals where number = ${number}`;
  const text = change(seal?.text ?? '');
  await admin`update seals set text = ${text}, sha256 = ${sha256(text)} where number = ${number}`;
}

test('untouched, everything holds', async () => {
  expect(must(await checkSeals(world.services, business.tenantId))).toMatchObject({
    seals: 5,
    days: 1,
    waiting: 0,
    notes: [],
    faults: [],
  });
});

test.each<{ what: string; how: () => Promise<unknown>; found: string | RegExp }>([
  {
    what: 'the content of a seal is changed',
    how: () => admin`update seals set content = replace(content, 'approved', 'declined') where number = 2`,
    found: 'What is under seal 2 is not what was sealed: it was changed.',
  },
  {
    what: 'a seal is changed with its content and all its digests',
    how: async () => {
      const [seal] = await admin<
        { content: string; content_sha256: string }[]
      >`select * from seals where number = 2`;
      const content = (seal?.content ?? '').replace('approved', 'declined');
      await resealed(2, (text) => text.replace(seal?.content_sha256 ?? '', sha256(content)));
      await admin`update seals set content = ${content}, content_sha256 = ${sha256(content)} where number = 2`;
    },
    found: 'The signature of seal 2 is not its key’s.',
  },
  {
    what: 'a seal is dropped',
    how: () => admin`delete from seals where number = 3`,
    found: 'The seal 3 is missing.',
  },
  {
    what: 'a seal is dropped and the numbers are closed up',
    how: async () => {
      await admin`delete from seals where number = 3`;
      await admin`update seals set number = number - 1 where number > 3`;
    },
    found: 'The seal 3 does not follow the one before it: one of them was changed, left out or put in.',
  },
  {
    what: 'two seals change places',
    how: async () => {
      await admin`update seals set number = 100 where number = 2`;
      await admin`update seals set number = 2 where number = 3`;
      await admin`update seals set number = 3 where number = 100`;
    },
    found: 'The seal 2 does not follow the one before it: one of them was changed, left out or put in.',
  },
  {
    what: 'a seal is put in between',
    how: async () => {
      await admin`update seals set number = number + 100 where number > 1`;
      await admin`update seals set number = number - 99 where number > 100`;
      await admin`insert into seals select tenant_id, 2, kind, gen_random_uuid(), work_order_id, account_id, happened_at,
        sealed_at, sealed_on, sha256, text, sha256, content, content_sha256, withheld, key_id, signature
        from seals where number = 1`;
    },
    found: 'Seal 2 says something else than its row: it was changed.',
  },
  {
    what: 'the newest seal is cut off',
    how: () => admin`delete from seals where number = 5`,
    found: 'The chain of seals ends with 4, and not with 5 as it is kept to.',
  },
  {
    what: 'a seal is put behind the end',
    how: () => admin`insert into seals select tenant_id, 6, kind, gen_random_uuid(), work_order_id, account_id, happened_at,
      sealed_at, sealed_on, sha256, text, sha256, content, content_sha256, withheld, key_id, signature
      from seals where number = 5`,
    found: 'There are seals behind the end of their chain: they were put in.',
  },
  {
    what: 'what was sealed is changed on record, and the seal left alone',
    how: () => admin`update decision_lines set answer = 'declined'`,
    found: /^What seal 1 stands for \(approval .*\): The record is not what was sealed\.$/,
  },
  {
    what: 'a picture is exchanged',
    how: () => admin`update photos set sha256 = ${'a'.repeat(64)}
      where work_order_id = (select work_order_id from seals where number = 4)`,
    found: /^What seal 4 stands for .*: The before photo .* is another one than was sealed\.$/,
  },
  {
    what: 'what was sealed is taken away with its seal and the wait for it, and the chain is cut there',
    how: async () => {
      await admin`delete from seals where number = 5`;
      await admin`delete from seal_requests where seal_number = 5`;
      await admin`update chain_heads set number = 4, sha256 = (select sha256 from seals where number = 4) where chain = 'seals'`;
    },
    found: /^The approval .* has no seal and waits for none\.$/,
  },
  {
    what: 'a day gets another root',
    how: () => admin`update seal_days set root = ${'b'.repeat(64)}`,
    found: 'The sealed day 2026-08-05 says something else than its row: it was changed.',
  },
  {
    what: 'a day is dropped',
    how: () => admin`delete from seal_days`,
    found: 'The chain of sealed days ends with 0, and not with 1 as it is kept to.',
  },
  {
    what: 'an audit record is changed',
    how: () => admin`update audit_records set from_address = '192.0.2.7'
      where id = (select audit_id from audit_links where number = 3)`,
    found: /^The audit record .* of link 3 was changed\.$/,
  },
  {
    what: 'an audit record is dropped',
    how: () =>
      admin`delete from audit_records where id = (select audit_id from audit_links where number = 4)`,
    found: /^The audit record .* of link 4 is gone\.$/,
  },
  {
    what: 'an audit record is dropped with its link',
    how: async () => {
      await admin`delete from audit_records where id = (select audit_id from audit_links where number = 4)`;
      await admin`delete from audit_links where number = 4`;
    },
    found: 'The link of the audit records 4 is missing.',
  },
  {
    what: 'an audit record is put in without a link',
    how: () => admin`insert into audit_records select tenant_id, gen_random_uuid(), at, person_id, account_id, action,
      subject_kind, subject_id, detail, from_address from audit_records limit 1`,
    found: '1 audit records are in no chain and wait for none: they were put in.',
  },
])('found and named: $what', async ({ how, found }) => {
  await how();
  expect(await faults()).toContainEqual(typeof found === 'string' ? found : expect.stringMatching(found));
});

test('who makes the whole chain of audit records anew is found out by the day that was sealed over it', async () => {
  await admin`update audit_records set action = 'nothing_of_the_kind' where id = (select audit_id from audit_links where number = 1)`;
  const rows =
    await admin`select l.number, r.* from audit_links l join audit_records r on r.id = l.audit_id order by l.number`;
  let previous: string | null = null;
  for (const row of rows) {
    const at = instant(row.at);
    const fact = {
      id: row.id,
      at,
      personId: row.person_id,
      accountId: row.account_id,
      action: row.action,
      subjectKind: row.subject_kind,
      subjectId: row.subject_id,
      detail: row.detail,
      fromAddress: row.from_address,
    };
    const record = digestHex(auditRecordText(fact));
    const sha: string = auditLinkDigest({
      tenantId: business.tenantId,
      number: Number(row.number),
      previous,
      record,
    });
    await admin`update audit_links set previous = ${previous}, record_sha256 = ${record}, sha256 = ${sha} where number = ${row.number}`;
    previous = sha;
  }
  await admin`update chain_heads set sha256 = ${previous} where chain = 'audit'`;
  expect(await faults()).toEqual([
    expect.stringMatching(
      /^Link \d+ of the audit records is not the one that the sealed day 2026-08-05 names\.$/,
    ),
  ]);
});

test('what was there before there were seals is asked for by the migration, sealed later, and says when', async () => {
  for (const table of ['seals', 'seal_days', 'audit_links', 'seal_requests', 'audit_waiting', 'chain_heads'])
    await admin`delete from ${admin(table)}`;
  const migration = await readFile(new URL('../migrations/000029_seals.sql', import.meta.url), 'utf8');
  const [, backfill = ''] = /-- What was there before: [^\n]*\n(do \$\$.*?end \$\$;)/s.exec(migration) ?? [];
  await admin.unsafe(backfill);
  world.at('2026-09-01T09:00');
  expect(must(await sealRecords(world.services, business.tenantId))).toBe(5);
  expect(must(await chainAudit(world.services, business.tenantId))).toBeGreaterThan(20);
  const [oldest] = await admin`select text from seals where number = 1`;
  expect(JSON.parse(oldest?.text)).toMatchObject({
    happenedAt: '2026-08-05T14:00:00Z',
    sealedAt: '2026-09-01T14:00:00Z',
  });
  expect(await faults()).toEqual([]);
});

test('nobody of the service can do any of it: the database refuses a seal that does not follow the last one', async () => {
  const plain = postgres(world.adminUrl, { max: 1, onnotice: () => undefined });
  const { tenantId } = business;
  const asWorker = (statement: string) =>
    plain.begin(async (sql) => {
      await sql`select set_config('role', 'grainwright_worker', true), set_config('app.tenant_id', ${tenantId}, true)`;
      await sql.unsafe(statement);
    });
  const copy = (
    number: string,
    previous: string,
  ) => `insert into seals select tenant_id, ${number}, kind, subject_id, work_order_id,
    account_id, happened_at, sealed_at, sealed_on, ${previous}, text, sha256, content, content_sha256, withheld, key_id, signature
    from seals where number = 5`;
  await expect(asWorker(copy('7', 'sha256'))).rejects.toThrow('duplicate key');
  await expect(asWorker(copy('6', 'sha256'))).rejects.toThrow('duplicate key');
  await expect(asWorker(`update seals set signature = signature`)).rejects.toThrow('permission denied');
  await expect(asWorker(`delete from seals`)).rejects.toThrow('permission denied');
  await expect(asWorker(`update chain_heads set number = 9`)).rejects.toThrow('permission denied');
  await expect(asWorker(`select advance_chain('seals', 6, null, 'x')`)).rejects.toThrow('permission denied');
  await expect(plain`update seals set signature = signature`).rejects.toThrow('append-only');
  await expect(plain`update chain_heads set number = number - 1`).rejects.toThrow('a chain only grows');
  await plain.end({ timeout: 5 });
});
