import { createHash } from 'node:crypto';
import type { TenantId } from '@grainwright/domain';
import type { Sql } from 'postgres';
import { asAdministrator } from '../support/work-in-hand.ts';
import type { World } from '../support/world.ts';

/** What nobody can know without having been told: ids, and digests of content. */
const unguessable = /[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}|\b[0-9a-f]{64}\b/g;

/** Every id and digest that stands anywhere in the database, read behind the product's back. */
export async function storedSecrets(world: World): Promise<ReadonlySet<string>> {
  const texts = await asAdministrator<string>(world, async (sql) => {
    const found: string[] = [];
    for (const table of await tables(sql)) {
      const rows = await sql<Row[]>`select t::text as text from ${sql(table)} t`;
      found.push(...rows.map(({ text }) => text));
    }
    return found;
  });
  return new Set(texts.flatMap((text) => text.match(unguessable) ?? []));
}

/** For each table how many rows of the business it has, and a digest of what stands in them; its users among them. */
export async function rowsOf(world: World, tenantId: TenantId): Promise<Readonly<Record<string, string>>> {
  const digests = await asAdministrator<readonly [string, string]>(world, async (sql) => {
    const found: (readonly [string, string])[] = [];
    for (const table of await tables(sql, 'tenant_id')) {
      const rows = await sql<Row[]>`
        select t::text as text from ${sql(table)} t where tenant_id = ${tenantId} order by 1`;
      found.push([table, digestOf(rows)]);
    }
    const users = await sql<Row[]>`
      select u::text as text from registry.users u
      where id in (select user_id from registry.memberships where tenant_id = ${tenantId}) order by 1`;
    return [...found, ['registry.users', digestOf(users)] as const];
  });
  return Object.fromEntries(digests);
}

interface Row {
  readonly text: string;
}

function digestOf(rows: readonly Row[]): string {
  const digest = createHash('sha256').update(rows.map(({ text }) => text).join('\n'));
  return `${rows.length} rows, ${digest.digest('hex')}`;
}

/** All tables of ours, or those that have this column. */
async function tables(sql: Sql, column: string | null = null): Promise<readonly string[]> {
  const rows = await sql<{ name: string }[]>`
    select t.table_schema || '.' || t.table_name as name from information_schema.tables t
    where t.table_schema in ('public', 'registry') and t.table_type = 'BASE TABLE'
      and (${column}::text is null or exists (
        select from information_schema.columns c
        where (c.table_schema, c.table_name, c.column_name) = (t.table_schema, t.table_name, ${column}::text)))
    order by 1`;
  return rows.map(({ name }) => name);
}
