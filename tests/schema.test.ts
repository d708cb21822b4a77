import * as tables from '@grainwright/db/schema';
import { getTableColumns, getTableName, is } from 'drizzle-orm';
import { getTableConfig, PgTable } from 'drizzle-orm/pg-core';
import postgres from 'postgres';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { freshDatabase } from './support/database.ts';

let sql: postgres.Sql;

beforeAll(async () => {
  const database = await freshDatabase();
  sql = postgres(database.adminUrl, { max: 1, onnotice: () => {} });
});
afterAll(() => sql.end());

test('the migrations come to the schema in migrations/schema.snapshot.sql; `npm test -- tests/schema -u` writes it anew', async () => {
  const parts = [
    ...(await columns()),
    ...(await lines('constraints', constraints)),
    ...(await lines('indexes', indexes)),
    ...(await lines('policies', policies)),
    ...(await lines('triggers', triggers)),
    ...(await lines('functions', functions)),
    ...(await lines('rights', rights)),
  ];
  await expect(`${parts.join('\n')}\n`).toMatchFileSnapshot('../migrations/schema.snapshot.sql');
});

test('the tables that queries are written with are those of the database, column by column', async () => {
  const found = await sql<{ name: string; column: string; required: boolean }[]>`
    select n.nspname || '.' || c.relname as name, a.attname as column, a.attnotnull as required
    from pg_class c join pg_namespace n on n.oid = c.relnamespace join pg_attribute a on a.attrelid = c.oid
    where n.nspname in ('public', 'registry') and c.relkind = 'r' and a.attnum > 0 and not a.attisdropped`;
  const inDatabase = found.map((row) => `${row.name}.${row.column}${row.required ? ' required' : ''}`).sort();
  const inCode = Object.values(tables)
    .filter((table) => is(table, PgTable))
    .flatMap((table) => {
      const schema = getTableConfig(table).schema ?? 'public';
      return Object.values(getTableColumns(table)).map(
        (column) => `${schema}.${getTableName(table)}.${column.name}${column.notNull ? ' required' : ''}`,
      );
    })
    .sort();
  expect(inCode).toEqual(inDatabase);
});

test('no function of ours looks for its tables along the path of whoever calls it', async () => {
  const loose = await sql`select p.proname from pg_proc p join pg_namespace n on n.oid = p.pronamespace
    where n.nspname = any (${ours}) and p.prokind = 'f' and p.prosrc ~* '\\m(from|into)\\M'
      and not exists (select from pg_depend d where d.objid = p.oid and d.deptype = 'e')
      and not coalesce(array_to_string(p.proconfig, ';'), '') like '%search_path=%'`;
  expect([...loose]).toEqual([]);
});

async function columns(): Promise<string[]> {
  const rows = await sql<{ name: string; text: string }[]>`
    select n.nspname || '.' || c.relname as name,
      string_agg('  ' || a.attname || ' ' || format_type(a.atttypid, a.atttypmod)
        || case when a.attnotnull then ' not null' else '' end
        || coalesce(' default ' || pg_get_expr(d.adbin, d.adrelid), ''), E',\n' order by a.attnum) as text
    from pg_class c join pg_namespace n on n.oid = c.relnamespace
    join pg_attribute a on a.attrelid = c.oid and a.attnum > 0 and not a.attisdropped
    left join pg_attrdef d on d.adrelid = c.oid and d.adnum = a.attnum
    where n.nspname in ('public', 'registry') and c.relkind in ('r', 'v') group by 1 order by 1`;
  return rows.map((row) => `${row.name} (\n${row.text}\n);`);
}

async function lines(heading: string, query: () => Promise<readonly { line: string }[]>): Promise<string[]> {
  return ['', `-- ${heading}`, ...(await query()).map((row) => `${row.line};`)];
}

const ours = ['public', 'registry'];

const constraints = () => sql<{ line: string }[]>`
  select conrelid::regclass::text || ' ' || conname || ' ' || pg_get_constraintdef(k.oid) as line
  from pg_constraint k join pg_namespace n on n.oid = k.connamespace
  where n.nspname = any (${ours}) and contype <> 'n' and conrelid <> 0 order by 1`;

const indexes = () => sql<{ line: string }[]>`
  select indexdef as line from pg_indexes where schemaname = any (${ours}) order by 1`;

const policies = () => sql<{ line: string }[]>`
  select schemaname || '.' || tablename || ' ' || policyname || ' to ' || array_to_string(roles, ', ')
    || ' using ' || coalesce(qual, '') || ' with check ' || coalesce(with_check, '') as line
  from pg_policies where schemaname = any (${ours}) order by 1`;

const triggers = () => sql<{ line: string }[]>`
  select pg_get_triggerdef(t.oid) as line from pg_trigger t join pg_class c on c.oid = t.tgrelid
  join pg_namespace n on n.oid = c.relnamespace where n.nspname = any (${ours}) and not tgisinternal order by 1`;

const functions = () => sql<{ line: string }[]>`
  select pg_get_functiondef(p.oid) as line from pg_proc p join pg_namespace n on n.oid = p.pronamespace
  where n.nspname = any (${ours}) and p.prokind in ('f', 'p')
    and not exists (select from pg_depend d where d.objid = p.oid and d.deptype = 'e') order by 1`;

const rights = () => sql<{ line: string }[]>`
  select line from (
    select g.grantee || ': ' || string_agg(g.privilege_type, ', ' order by g.privilege_type) || ' on '
      || g.table_schema || '.' || g.table_name as line
    from information_schema.role_table_grants g
    where g.table_schema = any (${ours}) and g.grantee like 'grainwright%' group by g.grantee, g.table_schema, g.table_name
    union all
    select c.grantee || ': ' || c.privilege_type || ' (' || string_agg(c.column_name, ', ' order by c.column_name) || ') on '
      || c.table_schema || '.' || c.table_name
    from information_schema.column_privileges c
    where c.table_schema = any (${ours}) and c.grantee like 'grainwright%' and not exists (
      select from information_schema.role_table_grants g where g.grantee = c.grantee and g.table_schema = c.table_schema
        and g.table_name = c.table_name and g.privilege_type = c.privilege_type)
    group by c.grantee, c.privilege_type, c.table_schema, c.table_name) as both_kinds
  order by 1`;
