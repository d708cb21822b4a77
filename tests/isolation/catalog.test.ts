import postgres from 'postgres';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { freshDatabase } from '../support/database.ts';

/**
 * Reads the catalog of a migrated database and fails for whatever is short of the wall between tenants. The rules
 * are those of docs/security.md; what row security does is Postgres' documentation, chapter “Row Security Policies”.
 */

let sql: postgres.Sql;

beforeAll(async () => {
  const database = await freshDatabase();
  sql = postgres(database.adminUrl, { max: 1, onnotice: () => {} });
});
afterAll(() => sql.end());

const roles = ['staff', 'account', 'vehicle_owner', 'link', 'worker', 'registry'].map(
  (name) => `grainwright_${name}`,
);

test('every table outside the registry belongs to a tenant: tenant_id is there, not null, and first in the primary key', async () => {
  const short = await sql`
    select c.relname from pg_class c
    where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'p') and not exists (
      select from pg_index i
      join pg_attribute a on a.attrelid = c.oid and a.attnum = i.indkey[0] and a.attname = 'tenant_id' and a.attnotnull
      where i.indrelid = c.oid and i.indisprimary)`;
  expect(short.map((row) => row.relname)).toEqual([]);
});

test('row security is enabled and forced on every tenant table', async () => {
  const open = await sql`
    select relname from pg_class
    where relnamespace = 'public'::regnamespace and relkind in ('r', 'p') and not (relrowsecurity and relforcerowsecurity)`;
  expect(open.map((row) => row.relname)).toEqual([]);
});

test('every policy compares the tenant in USING and in WITH CHECK', async () => {
  const loose = await sql`
    select polrelid::regclass::text as table, polname from pg_policy p
    join pg_class c on c.oid = p.polrelid
    where c.relnamespace = 'public'::regnamespace and not (
      coalesce(pg_get_expr(polqual, polrelid), '') like '%tenant_id = ( SELECT (NULLIF(current_setting(''app.tenant_id''%'
      and coalesce(pg_get_expr(polwithcheck, polrelid), '') like '%tenant_id = ( SELECT (NULLIF(current_setting(''app.tenant_id''%')`;
  expect([...loose]).toEqual([]);
});

test('every policy is for named roles of ours, never for everybody', async () => {
  const wide = await sql`
    select polrelid::regclass::text as table, polname from pg_policy p
    join pg_class c on c.oid = p.polrelid
    where c.relnamespace = 'public'::regnamespace
      and (0 = any (polroles) or exists (
        select from unnest(polroles) r where r <> 0 and not (r::regrole::text = any (${roles}))))`;
  expect([...wide]).toEqual([]);
});

test('whoever has a right to a table has a policy on it, so that a grant alone opens nothing', async () => {
  const bare = await sql`
    select distinct c.relname, r.rolname from pg_class c
    cross join pg_roles r
    where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'p') and r.rolname = any (${roles})
      and (has_any_column_privilege(r.oid, c.oid, 'select') or has_any_column_privilege(r.oid, c.oid, 'insert'))
      and not exists (select from pg_policy p where p.polrelid = c.oid and r.oid = any (p.polroles))`;
  expect([...bare]).toEqual([]);
});

test('every foreign key between tenant tables includes tenant_id on both sides', async () => {
  const loose = await sql`
    select conrelid::regclass::text as table, conname from pg_constraint k
    join pg_class child on child.oid = k.conrelid
    join pg_class parent on parent.oid = k.confrelid
    where k.contype = 'f' and child.relnamespace = 'public'::regnamespace
      and not exists (
        select from unnest(k.conkey, k.confkey) as pair (here, there)
        join pg_attribute a on a.attrelid = k.conrelid and a.attnum = pair.here and a.attname = 'tenant_id'
        join pg_attribute b on b.attrelid = k.confrelid and b.attnum = pair.there and b.attname = 'tenant_id')`;
  expect([...loose]).toEqual([]);
});

test('every unique rule is within the tenant, so that it tells nothing of another', async () => {
  const wide = await sql`
    select i.indexrelid::regclass::text as index from pg_index i
    join pg_class c on c.oid = i.indrelid
    where c.relnamespace = 'public'::regnamespace and (i.indisunique or i.indisexclusion) and not exists (
      select from pg_attribute a where a.attrelid = c.oid and a.attnum = i.indkey[0] and a.attname = 'tenant_id')`;
  expect([...wide]).toEqual([]);
});

test('every view reads with the rights of whoever asks', async () => {
  const leaking = await sql`
    select relname from pg_class
    where relnamespace in ('public'::regnamespace, 'registry'::regnamespace) and relkind in ('v', 'm')
      and not coalesce('security_invoker=true' = any (reloptions), false)`;
  expect(leaking.map((row) => row.relname)).toEqual([]);
});

test('no role of the service may truncate, reference, or put triggers on anything', async () => {
  const wide = await sql`
    select c.relname, r.rolname from pg_class c cross join pg_roles r
    where c.relnamespace in ('public'::regnamespace, 'registry'::regnamespace) and c.relkind in ('r', 'p')
      and r.rolname = any (${[...roles, 'grainwright_login', 'grainwright_jobs']})
      and has_table_privilege(r.oid, c.oid, 'truncate, references, trigger')`;
  expect([...wide]).toEqual([]);
});

test('the logins own nothing, inherit nothing and have no right to a table by themselves', async () => {
  const [counts] = await sql`
    select
      (select count(*)::int from pg_class c join pg_roles r on r.oid = c.relowner where r.rolname like 'grainwright_%') as owned,
      (select count(*)::int from pg_roles where rolname in ('grainwright_login', 'grainwright_jobs')
        and (rolinherit or rolsuper or rolbypassrls or rolcreaterole or rolcreatedb)) as strong,
      (select count(*)::int from pg_class c where c.relnamespace in ('public'::regnamespace, 'registry'::regnamespace)
        and c.relkind in ('r', 'v', 'p') and (has_any_column_privilege('grainwright_login', c.oid, 'select')
          or has_any_column_privilege('grainwright_jobs', c.oid, 'select'))) as readable`;
  expect(counts).toEqual({ owned: 0, strong: 0, readable: 0 });
});

test('the roles of a transaction are no logins, and the login may become them without inheriting', async () => {
  const members = await sql`
    select m.roleid::regrole::text as role, m.inherit_option, m.set_option, r.rolcanlogin, r.rolbypassrls
    from pg_auth_members m join pg_roles r on r.oid = m.roleid
    where m.member = 'grainwright_login'::regrole order by 1`;
  expect(members.map((row) => ({ ...row }))).toEqual(
    [...roles].sort().map((role) => ({
      role,
      inherit_option: false,
      set_option: true,
      rolcanlogin: false,
      rolbypassrls: false,
    })),
  );
});

test('the registry is for its own role alone, and that role has nothing of a tenant', async () => {
  const crossing = await sql`
    select n.nspname, c.relname, r.rolname from pg_class c
    join pg_namespace n on n.oid = c.relnamespace cross join pg_roles r
    where c.relkind in ('r', 'v', 'p') and has_any_column_privilege(r.oid, c.oid, 'select')
      and ((n.nspname = 'registry' and r.rolname = any (${roles.filter((role) => role !== 'grainwright_registry')}))
        or (n.nspname = 'public' and r.rolname = 'grainwright_registry'))`;
  expect([...crossing]).toEqual([]);
});

test('accounts and vehicle owners have no right to the price book, the position of a photo or the tier', async () => {
  const reads = async (role: string, table: string, column: string) => {
    const [row] = await sql`select has_column_privilege(${role}, ${table}, ${column}, 'select') as may`;
    return row?.may;
  };
  for (const role of ['grainwright_account', 'grainwright_vehicle_owner']) {
    for (const table of [
      'rates',
      'price_drafts',
      'price_draft_rates',
      'tiers',
      'tier_terms',
      'care_factors',
      'care_percents',
      'account_prices',
      'price_terms',
      'tax_rates',
    ])
      expect([role, table, await reads(role, table, 'tenant_id')]).toEqual([role, table, false]);
    for (const column of ['latitude', 'longitude', 'storage_key'])
      expect([role, column, await reads(role, 'photos', column)]).toEqual([role, column, false]);
    expect([role, await reads(role, 'accounts', 'tier_code')]).toEqual([role, false]);
  }
});

test('a vehicle’s owner has no right to any column that holds money', async () => {
  const prices = await sql`
    select c.relname, a.attname from pg_attribute a join pg_class c on c.oid = a.attrelid
    where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'v', 'p') and a.attnum > 0 and not a.attisdropped
      and (a.attname like '%\\_minor' or a.attname in ('trail', 'rules', 'content', 'basis'))
      and has_column_privilege('grainwright_vehicle_owner', c.oid, a.attnum, 'select')`;
  expect([...prices]).toEqual([]);
});

test('what is on record can’t be changed: the application may not, and a trigger stops the owner', async () => {
  const records = [
    ...[
      'estimate_versions',
      'estimate_lines',
      'decisions',
      'decision_lines',
      'decision_signatures',
      'caution_acknowledgments',
      'seam_releases',
      'work_order_steps',
    ],
    ...['photo_coverings', 'covered_copies', 'recording_withholdings', 'deletions', 'deletion_removals'],
    ...['retention_rules', 'retention_switches', 'legal_holds', 'legal_hold_ends'],
    ...['photos', 'photo_derivatives', 'acceptances', 'audit_records', 'journal_entries', 'journal_lines'],
    ...[
      'invoices',
      'invoice_lines',
      'invoice_visits',
      'invoice_work_orders',
      'invoice_taxes',
      'invoice_tax_bases',
      'payments',
      'payment_applications',
    ],
    ...[
      'payment_returns',
      'payment_unapplications',
      'refunds',
      'credit_moves',
      'parked_receipts',
      'receipt_assignments',
      'late_charges',
      'openings',
      'opening_items',
      'clearing_movements',
    ],
    ...['signing_keys', 'seals', 'seal_days', 'audit_links'],
    ...['handed_in_certificates', 'certificate_checks'],
    ...['statements', 'statement_files', 'statement_runs', 'outgoing_mail_attachments'],
    ...[
      'credit_notes',
      'credit_note_lines',
      'credit_note_taxes',
      'credit_note_tax_bases',
      'credit_note_applications',
    ],
    ...[
      'invoice_voids',
      'disputes',
      'dispute_answers',
      'write_offs',
      'write_off_taxes',
      'write_off_recoveries',
      'discounts_taken',
    ],
  ];
  const changeable = await sql`
    select c.relname from pg_class c
    where c.relnamespace = 'public'::regnamespace and c.relname = any (${records}) and (
      exists (select from pg_roles r where r.rolname = any (${roles})
        and (has_any_column_privilege(r.oid, c.oid, 'update') or has_table_privilege(r.oid, c.oid, 'delete')))
      or (select count(*) from pg_trigger t where t.tgrelid = c.oid and t.tgname like 'append\\_only%' and t.tgenabled = 'O') <> 2)`;
  expect(changeable.map((row) => row.relname)).toEqual([]);
  const [found] =
    await sql`select count(*)::int as tables from pg_class where relnamespace = 'public'::regnamespace and relname = any (${records})`;
  expect(found?.tables).toBe(records.length);
});

test('functions with their owner’s rights are the reviewed ones, and not open to everybody', async () => {
  const definers = await sql`
    select p.proname, p.proconfig is not null as pinned, has_function_privilege('public', p.oid, 'execute') as open
    from pg_proc p where p.pronamespace in ('public'::regnamespace, 'registry'::regnamespace) and p.prosecdef order by 1`;
  expect(definers.map((row) => ({ ...row }))).toEqual([
    { proname: 'chain_audit_records', pinned: true, open: false },
    { proname: 'chain_seal', pinned: true, open: false },
    { proname: 'chain_seal_day', pinned: true, open: false },
    { proname: 'enqueue_job', pinned: true, open: false },
    { proname: 'lock_chain', pinned: true, open: false },
    { proname: 'request_seal', pinned: true, open: false },
    { proname: 'wait_for_link', pinned: true, open: false },
  ]);
});

test('the job library’s tables are its runner’s alone', async () => {
  const open = await sql`
    select c.relname, r.rolname from pg_class c join pg_namespace n on n.oid = c.relnamespace cross join pg_roles r
    where n.nspname = 'graphile_worker' and c.relkind in ('r', 'v', 'p')
      and r.rolname = any (${[...roles, 'grainwright_login']})
      and has_schema_privilege(r.oid, n.oid, 'usage') and has_any_column_privilege(r.oid, c.oid, 'select')`;
  expect([...open]).toEqual([]);
});
