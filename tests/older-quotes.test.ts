import { copyFile, mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { migrate } from '@grainwright/db';
import postgres, { type Sql } from 'postgres';
import { expect, test } from 'vitest';
import { emptyDatabase } from './support/database.ts';

const migrations = fileURLToPath(new URL('../migrations', import.meta.url));
const [tenant, technician] = ['01980000-0000-7000-8000-0000000000a1', '01980000-0000-7000-8000-0000000000a2'];
const id = (number: number) => `01980000-0000-7000-8000-${String(number).padStart(12, '0')}`;

/** What a business had before quotes were by part and stops had an order. Nothing it refers to is made: only rows move. */
async function tellOlderRows(sql: Sql): Promise<void> {
  await sql`set session_replication_role = replica`;
  await sql`insert into people (tenant_id, id, name) values (${tenant}, ${technician}, 'Tobias Wrenfield')`;
  await sql`insert into staff_members (tenant_id, person_id, role, short_name)
    values (${tenant}, ${technician}, 'technician', 'T2')`;
  const visit = (number: number, day: string, afterHours = false) => sql`
    insert into visits (tenant_id, id, account_id, site_id, technician_id, day, miles, after_hours, walk_in, rush)
    values (${tenant}, ${id(number)}, ${id(90)}, ${id(number + 100)}, ${technician}, ${day}, 1, ${afterHours}, false, false)`;
  await visit(1, '2026-08-05');
  await visit(2, '2026-08-05');
  await visit(3, '2026-08-05', true);
  await visit(4, '2026-08-06');
  const order = (number: number, of: number, at: string, quoted: number | null) => sql`
    insert into work_orders (tenant_id, id, number, account_id, visit_id, vehicle_id, state, replacement_minor,
      replacement_note, written_up_at)
    values (${tenant}, ${id(number)}, ${number}, ${id(90)}, ${id(of)}, ${id(91)}, 'written_up', ${quoted},
      ${quoted === null ? '' : 'parts counter'}, ${at})`;
  await order(11, 2, '2026-08-05T08:00:00Z', 94_000);
  await order(12, 1, '2026-08-05T09:00:00Z', 285_700);
  await order(13, 3, '2026-08-05T07:00:00Z', null);
  await order(14, 4, '2026-08-06T07:00:00Z', 1000);
  const line = (
    number: number,
    of: number,
    part: string,
    side: string,
    position: number,
    repairs = true,
  ) => sql`
    insert into work_order_lines (tenant_id, id, work_order_id, position, part, side, damage, observation, inference,
      material, repairs_damage)
    values (${tenant}, ${id(number)}, ${id(of)}, ${position}, ${part}, ${side}, 'burn', '', '', '', ${repairs})`;
  await line(21, 11, 'tailgate_lining', '', 1);
  await line(22, 11, 'tailgate_lining', '', 2);
  await line(23, 11, 'dash', '', 3, false);
  await line(24, 12, 'quarter_trim', 'left', 1);
  await line(25, 12, 'quarter_trim', 'right', 2);
}

test('a quote of old is for the one damaged part, else for all of them, and older stops stand as they were begun', async () => {
  const { adminUrl } = await emptyDatabase();
  const before = await mkdtemp(join(tmpdir(), 'grainwright-migrations-'));
  for (const name of await readdir(migrations))
    if (name < '000024' && name.endsWith('.sql')) await copyFile(join(migrations, name), join(before, name));
  expect(await migrate(adminUrl, { migrationsDirectory: before })).toMatchObject({ ok: true });
  await rm(before, { recursive: true });
  const sql = postgres(adminUrl, { max: 1, onnotice: () => undefined });
  await tellOlderRows(sql);
  expect(await migrate(adminUrl, { migrationsDirectory: migrations })).toMatchObject({ ok: true });
  const quotes = await sql`
    select work_order_id, part, side, amount_minor::integer as amount, note, origin, superseded_at
    from replacement_quotes order by work_order_id`;
  const said = { note: 'parts counter', origin: 'typed', superseded_at: null };
  expect(quotes.map((row) => ({ ...row }))).toEqual([
    { work_order_id: id(11), part: 'tailgate_lining', side: '', amount: 94_000, ...said },
    { work_order_id: id(12), part: '', side: '', amount: 285_700, ...said },
    { work_order_id: id(14), part: '', side: '', amount: 1000, ...said },
  ]);
  const stops = await sql`select id, position from visits order by day, position`;
  expect(stops.map((row) => [row.id, row.position])).toEqual([
    [id(2), 1],
    [id(1), 2],
    [id(3), 3],
    [id(4), 1],
  ]);
  await sql.end();
});
